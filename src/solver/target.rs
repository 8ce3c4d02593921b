//! The same plain arithmetic compiled for wider registers, chosen when the program runs.
//!
//! Nothing is fused or reordered, so that every target gives the same bits. Registers of 512 bits
//! were tried and gained nothing over 256.

/// Whether the processor has the registers that kernels are compiled for besides the program's own target.
#[inline(always)]
pub(crate) fn has_wide() -> bool {
    #[cfg(target_arch = "x86_64")]
    return !tests_narrow() && is_x86_feature_detected!("avx2");
    #[cfg(not(target_arch = "x86_64"))]
    return false;
}

/// Whether a test has asked this thread for the program's own target; never elsewhere.
#[inline(always)]
fn tests_narrow() -> bool {
    #[cfg(test)]
    return NARROW.get();
    #[cfg(not(test))]
    return false;
}

#[cfg(test)]
thread_local! {
    /// Holds this thread to the program's own target.
    pub(crate) static NARROW: std::cell::Cell<bool> = const { std::cell::Cell::new(false) };
}

/// Compiles a function for both targets, with `W` telling which; the call goes to the wider one
/// where the processor has it.
macro_rules! per_target {
    (
        $(#[$doc:meta])*
        $vis:vis fn $name:ident<const $L:ident: usize, const $W:ident: bool>(
            $($arg:ident: $ty:ty),* $(,)?
        ) $(-> $out:ty)? $body:block
    ) => {
        $(#[$doc])*
        $vis fn $name<const $L: usize>($($arg: $ty),*) $(-> $out)? {
            #[inline(always)]
            fn either<const $L: usize, const $W: bool>($($arg: $ty),*) $(-> $out)? $body

            #[cfg(target_arch = "x86_64")]
            #[target_feature(enable = "avx2")]
            unsafe fn wide<const $L: usize>($($arg: $ty),*) $(-> $out)? {
                either::<$L, true>($($arg),*)
            }

            #[cfg(target_arch = "x86_64")]
            if $crate::solver::target::has_wide() {
                // SAFETY: the processor has the instructions, as was just found out.
                return unsafe { wide($($arg),*) };
            }
            either::<$L, false>($($arg),*)
        }
    };
}
pub(crate) use per_target;
