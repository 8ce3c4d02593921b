//! Lanes taken a few at a time: what is long to compute is compiled for one lane and for four, not
//! for every number of lanes.
//!
//! Lanes are independent, and the arithmetic is that of [`Pack`], so the bits do not depend on how
//! lanes are taken.

use crate::solver::pack::Pack;

/// `C` entries of a flat field from `k` on.
#[inline(always)]
pub(crate) fn at<const C: usize, const W: bool>(field: &[f64], k: usize) -> Pack<C, W> {
    Pack(*field[k..].first_chunk().expect("lanes come in whole chunks"))
}

/// Puts `C` entries of a flat field from `k` on.
#[inline(always)]
pub(crate) fn put<const C: usize, const W: bool>(field: &mut [f64], k: usize, pack: Pack<C, W>) {
    *field[k..].first_chunk_mut().expect("lanes come in whole chunks") = pack.0;
}

/// An entry from which `C` lie within `len`.
///
/// Where fields are cut to one `len` before a loop, the compiler sees at this one look that every
/// [`at`] and [`put`] of that entry is within them, too.
///
/// Panics: if they do not.
#[inline(always)]
pub(crate) fn within<const C: usize>(k: usize, len: usize) -> usize {
    assert!(k <= len && len - k >= C, "lanes come in whole chunks");
    k
}

/// Makes a function of all lanes out of one of a chunk, `fn chunk::<C, W>(argument, first lane)`: by
/// fours where the processor has the registers and the lanes are so many, else one by one, with its
/// instructions where it has them.
macro_rules! in_chunks {
    ($(#[$doc:meta])* $vis:vis fn $name:ident($arg:ident: &mut $ty:ty) by $chunk:ident) => {
        $(#[$doc])*
        $vis fn $name($arg: &mut $ty, n_lanes: usize) {
            #[cfg(target_arch = "x86_64")]
            #[target_feature(enable = "avx2")]
            unsafe fn wide($arg: &mut $ty, n_lanes: usize) {
                if n_lanes % 4 != 0 {
                    for l in 0..n_lanes {
                        $chunk::<1, true>($arg, l);
                    }
                    return;
                }
                for l in (0..n_lanes).step_by(4) {
                    $chunk::<4, true>($arg, l);
                }
            }

            #[cfg(target_arch = "x86_64")]
            if $crate::solver::target::has_wide() {
                // SAFETY: the processor has the instructions, as was just found out.
                return unsafe { wide($arg, n_lanes) };
            }
            for l in 0..n_lanes {
                $chunk::<1, false>($arg, l);
            }
        }
    };
}
pub(crate) use in_chunks;

/// Makes a function of a span of flat entries out of one of a few, `fn some::<C, W>(argument, first
/// entry)`, that may be called twice for an entry: by fours where the processor has the registers,
/// lanes come in fours or alone and the entries are so many, else one by one.
macro_rules! in_spans {
    ($(#[$doc:meta])* fn $name:ident($arg:ident: &mut $ty:ty) by $some:ident) => {
        $(#[$doc])*
        fn $name($arg: &mut $ty, n_lanes: usize, (from, to): (usize, usize)) {
            #[cfg(target_arch = "x86_64")]
            #[target_feature(enable = "avx2")]
            unsafe fn wide($arg: &mut $ty, from: usize, to: usize) {
                if to - from < 4 {
                    for e in from..to {
                        $some::<1, true>($arg, e);
                    }
                    return;
                }
                let mut e = from;
                while e < to {
                    // the last four overlap those before where they are no whole four
                    $some::<4, true>($arg, e.min(to - 4));
                    e += 4;
                }
            }

            #[cfg(target_arch = "x86_64")]
            if (n_lanes == 1 || n_lanes % 4 == 0) && $crate::solver::target::has_wide() {
                // SAFETY: the processor has the instructions, as was just found out.
                return unsafe { wide($arg, from, to) };
            }
            for e in from..to {
                $some::<1, false>($arg, e);
            }
        }
    };
}
pub(crate) use in_spans;
