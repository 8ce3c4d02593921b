use crate::fixtures::*;
use stillair::study::fit::fitting::{Task, fit};
use stillair::study::fit::free::What;
use stillair::study::property::{OfPly, Property};
#[test]
fn explore() {
    let shelf = shelf();
    let base = layup(&shelf, "three-ply-loose");
    let exposure = flame(&shelf);
    use OfPly::*;
    let p = |j, of| What::Property(Property::Ply(j, of));
    let sets: Vec<Vec<What>> = vec![
        vec![p(1, Conductivity), p(1, Thickness)],
        vec![p(1, Conductivity), p(1, SpecificHeat)],
        vec![p(1, Conductivity), What::Property(Property::RadiantShare)],
        vec![p(1, Conductivity), p(0, Emissivity), What::Property(Property::Gap(1))],
        vec![What::Property(Property::Gap(0)), What::Property(Property::Gap(1))],
        vec![p(0, Conductivity), p(1, Conductivity), p(2, Conductivity)],
        vec![What::Property(Property::Flux), What::Property(Property::RadiantShare), p(0, Emissivity)],
        vec![p(2, FaceVoid), p(2, Conductivity)],
    ];
    for set in sets {
        let free = free(&set, &base, &exposure);
        let times = moments(0.2, 20.0);
        let truth = rises(&base, &exposure, &free, (&times, &vec![1.1; set.len()].iter().enumerate().map(|(i, _)| if i % 2 == 0 {1.05} else {0.92}).collect::<Vec<_>>(), 1));
        let mut noise = Noise(99);
        let read: Vec<f64> = truth.iter().map(|r| r + 0.1 * noise.next()).collect();
        let f = fit(&Task { layup: &base, exposure: &exposure, free: &free, readings: &readings(&times, &read), level: 1 }).unwrap();
        println!("{set:?}\n  rel {:?}\n half {:?}\n cond {} corr {:?} step {:.1e} jac {} {:?}\n {:?}", f.values.iter().zip(&f.free).map(|(v, f)| v / f.start).collect::<Vec<_>>(), f.half_widths.iter().zip(&f.free).map(|(h, f)| h.map(|h| h / f.start)).collect::<Vec<_>>(), f.spread.condition, f.spread.correlation.as_ref().map(|c| c.iter().map(|v| (v*1e4).round()/1e4).collect::<Vec<_>>()), f.step_error, f.n_jacobians, f.end, f.twins);
    }
}
