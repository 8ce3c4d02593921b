//! What a question hangs on as bytes, every value under its name, to be digested: what differs in anything has other
//! bytes, and no wording and no way of printing is in them.

use std::sync::Arc;

use crate::garment::band::{Anchoring, Band, Bands, Class, Factors, Reading};
use crate::garment::brief::{
    Brief, GapPlace, GapRange, Limits, Margin, Minimise, Stitching, Wanted,
};
use crate::garment::charring::{Charring, CharringPart};
use crate::garment::exposure::{Boundary, Disc, Exposure, Flux, Orientation, Told};
use crate::garment::fabric::{Decomposition, Fabric, Role};
use crate::garment::fibre::Limit;
use crate::garment::known::{Known, Provenance, Rise};
use crate::garment::layup::{Entry, Gap, Layup, Pattern, Ply, PlyJoint, Quilting};
use crate::garment::property::OfPly;
use crate::garment::skin::{Damage, DamageRange, Skin, SkinLayer};
use crate::garment::target::{Figure, Judged, Target};
use crate::physics::law::{Law, Ramp};
use crate::study::answer::Quilts;
use crate::study::property::{OfQuilting, Property};

/// Something that a question hangs on.
pub(crate) trait Bits {
    /// Puts it behind what is there. What has several parts says how many, so that none runs into the next.
    fn put(&self, to: &mut Vec<u8>);
}

/// Bytes of records: every field under its name; one that is left out does not compile.
macro_rules! records {
    ($($record:ident { $($field:ident),* $(,)? })*) => {$(
        impl crate::study::bits::Bits for $record {
            fn put(&self, to: &mut Vec<u8>) {
                let $record { $($field),* } = self;
                $(
                    stringify!($field).put(to);
                    $field.put(to);
                )*
            }
        }
    )*};
}
pub(crate) use records;

/// Bytes of choices: the name of the one that is taken, and what it holds.
macro_rules! choices {
    ($($choice:ident { $($one:ident $(($($part:ident),*))?),* $(,)? })*) => {$(
        impl crate::study::bits::Bits for $choice {
            fn put(&self, to: &mut Vec<u8>) {
                match self {
                    $($choice::$one $(($($part),*))? => {
                        stringify!($one).put(to);
                        $($($part.put(to);)*)?
                    })*
                }
            }
        }
    )*};
}
pub(crate) use choices;

/// Bytes of whole numbers.
macro_rules! wholes {
    ($($whole:ty),*) => {$(
        impl Bits for $whole {
            fn put(&self, to: &mut Vec<u8>) {
                to.extend((*self as u64).to_le_bytes());
            }
        }
    )*};
}
wholes!(bool, i8, i16, u32, u64, usize);

impl Bits for f64 {
    fn put(&self, to: &mut Vec<u8>) {
        self.to_bits().put(to);
    }
}

impl Bits for str {
    fn put(&self, to: &mut Vec<u8>) {
        self.len().put(to);
        to.extend(self.as_bytes());
    }
}

impl Bits for String {
    fn put(&self, to: &mut Vec<u8>) {
        self.as_str().put(to);
    }
}

impl<T: Bits + ?Sized> Bits for Arc<T> {
    fn put(&self, to: &mut Vec<u8>) {
        (**self).put(to);
    }
}

impl<T: Bits> Bits for Box<T> {
    fn put(&self, to: &mut Vec<u8>) {
        (**self).put(to);
    }
}

impl<T: Bits> Bits for Option<T> {
    fn put(&self, to: &mut Vec<u8>) {
        self.as_slice().put(to);
    }
}

impl<T: Bits> Bits for Vec<T> {
    fn put(&self, to: &mut Vec<u8>) {
        self.as_slice().put(to);
    }
}

impl<T: Bits> Bits for [T] {
    fn put(&self, to: &mut Vec<u8>) {
        self.len().put(to);
        self.iter().for_each(|one| one.put(to));
    }
}

impl<T: Bits, const N: usize> Bits for [T; N] {
    fn put(&self, to: &mut Vec<u8>) {
        self.as_slice().put(to);
    }
}

impl<A: Bits, B: Bits> Bits for (A, B) {
    fn put(&self, to: &mut Vec<u8>) {
        self.0.put(to);
        self.1.put(to);
    }
}

impl<T: Bits> Bits for Known<T> {
    fn put(&self, to: &mut Vec<u8>) {
        let Known { value, provenance, source, tolerance, rise } = self;
        value.put(to);
        provenance.put(to);
        source.put(to);
        tolerance.put(to);
        rise.put(to);
    }
}

impl Bits for Bands {
    fn put(&self, to: &mut Vec<u8>) {
        self.rows.put(to);
        self.is_anchored().put(to);
        if let Some(tests) = self.tests() {
            tests.bits(to);
        }
    }
}

records! {
    Rise { provenance, source }
    Ramp { slope, lo, hi }
    Law { base, ramps }
    Limit { temp, event }
    Decomposition { heat, temp_from, temp_to }
    Charring { energy, temp_peak, residue, heat, water_share, thinning }
    CharringPart { fibre, share, charring }
    Fabric {
        name, description, role, fibre, areal_density, thickness, thickness_pressure, compression, conductivity,
        specific_heat, face_void, emissivity, transmissivity, regain, regain_conditioned, fibre_regain,
        vapour_resistance, fibre_density, fibre_conductivity, decomposition, charring, temp_limit, limit_event,
        limit_unfollowed,
    }
    Ply { fabric, joint }
    Gap { thickness }
    Quilting { pattern, pitch, stitch_width, loft, pressed, thread }
    Layup { name, note, stack, pressure, quilting }
    Told { origin, tolerance }
    Boundary { radiant_share, temp_flame, p_vapour_gas }
    Disc { mass, cp, area, emissivity }
    Exposure {
        name, description, method, flux, radiant_share, temp_flame, temp_room, duration, t_end, h_cooling,
        p_vapour_gas, orientation, spacer, disc, boundary, source,
    }
    SkinLayer { name, thickness, k, rho_cp, perfusion }
    DamageRange { temp_from, ln_rate, temp_activation }
    Damage { ranges }
    Skin { name, description, layers, temp_surface, temp_core, basal, dermal, source }
    Target { name, description, standard, figure, at_least, exposure, judged_on, source }
    Factors { lower, upper }
    Band { class, reading, factors, n_cases, basis, source, anchored }
    Anchoring { layup, factor, shelf, tests, n_tests, covered, fitted_to, contradicting }
    Wanted { target, exposure, margin, odds }
    GapRange { place, least, most, step }
    Stitching { pattern, pitch, stitch_width, loft, pressed_share, thread }
    Limits { areal_density, thickness, plies_least, plies_most }
    Brief {
        name, note, minimise, wanted, outer, felts, inner, n_felts, gaps, joint, stitchings, limits, n_shortlist,
        n_sets, skin, bands,
    }
}

choices! {
    Provenance {
        Measured, DataSheet, Published, Memory, Stated, CommonPractice, Estimated, Fitted, Invented,
    }
    Role { Outer, Felt, Barrier, Lining, Inner, Embroidery }
    PlyJoint { Faces, Conductance(h), Shared }
    Entry { Ply(ply), Gap(gap) }
    Pattern { Channels, Square, Diamond }
    Flux { Steady(flux), Series(points) }
    Orientation { HeatedFromBelow, Vertical, Still }
    Figure { Rise12, Rise24, Rise24Less12, Tpp, Stoll, SecondDegree }
    Judged { Lowest, Mean }
    Class { Felt, Cloth, TwoPlies, ThreePlies, BareSkin }
    Reading { Flame, Radiant, Difference, Skin }
    Margin { Share(share), Time(t) }
    Minimise { Mass, Thickness }
    GapPlace { BehindOuter, BetweenFelts, BeforeInner, BehindInner }
    Quilts { Computed, LeftOut }
    OfPly {
        ArealDensity, Thickness, Conductivity, ConductivityRise, SpecificHeat, FaceVoid, Emissivity, Transmissivity,
        Regain, VapourResistance, FibreDensity, Limit, CharHeat, Thinning,
    }
    OfQuilting { Pitch, StitchWidth, Loft, Pressed }
    Property {
        Ply(j, of), Gap(j), Quilting(of), Flux, RadiantShare, FlameTemperature, DiscHeatCapacity,
    }
}
