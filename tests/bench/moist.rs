//! Claim: moisture delays the disc under a flame; radiation that a ply lets through shortens
//! its time; a spacer before the disc lengthens it.
//! Source: what the heat balance demands at 80 kW/m²; water takes 2.26 MJ/kg (IAPWS-95).
//! Tolerance: differences must exceed the printed errors.

use crate::bench::fixtures::{at, disc, flame, known, three_plies, touching};
use stillair::garment::fabric::Fabric;

fn rise24(change: impl Fn(&mut Fabric)) -> (f64, f64) {
    let mut fabrics = three_plies(1.0);
    fabrics.iter_mut().for_each(change);
    at(disc(&touching(fabrics), &flame(), 2e-3).rise24)
}

#[test]
fn moisture_delays() {
    let (dry, damp, wet) = (
        rise24(|_| ()),
        rise24(|fabric| fabric.regain = known(0.05)),
        rise24(|fabric| fabric.regain = known(0.15)),
    );
    println!("{dry:?} {damp:?} {wet:?}");
    assert!(damp.0 - dry.0 > damp.1 + dry.1, "{dry:?} {damp:?}");
    assert!(wet.0 - damp.0 > wet.1 + damp.1, "{damp:?} {wet:?}");
}

#[test]
fn radiation_through_the_plies_shortens() {
    let (opaque, little, much) = (
        rise24(|_| ()),
        rise24(|fabric| fabric.transmissivity = known(0.05)),
        rise24(|fabric| fabric.transmissivity = known(0.3)),
    );
    println!("{opaque:?} {little:?} {much:?}");
    assert!(opaque.0 - little.0 > opaque.1 + little.1, "{opaque:?} {little:?}");
    assert!(little.0 - much.0 > little.1 + much.1, "{little:?} {much:?}");
}

#[test]
fn a_spacer_lengthens() {
    let layup = touching(three_plies(1.0));
    let touching = at(disc(&layup, &flame(), 2e-3).rise24);
    let mut exposure = flame();
    exposure.spacer = 6.4e-3;
    let apart = at(disc(&layup, &exposure, 2e-3).rise24);
    assert!(apart.0 - touching.0 > apart.1 + touching.1, "{touching:?} {apart:?}");
}
