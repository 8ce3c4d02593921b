//! Watches set up as an exposure sets them up, for studies that look at more than its figures.

use crate::bench::assemble::{Assembly, PartKind};
use crate::bench::trace::Trace;
use crate::bench::watch_disc::DiscWatch;
use crate::bench::watch_skin::{SkinEvents, SkinWatch};
use crate::garment::exposure::Exposure;
use crate::garment::skin::Skin;

/// What every study asks of its exposures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms<'a> {
    /// The exposure.
    pub exposure: &'a Exposure,
    /// The skin model.
    pub skin: &'a Skin,
    /// Numerical error allowed, relative to each time [–], above 0.
    pub error_goal: f64,
}

/// The watch on the copper disc.
pub fn disc_watch(exposure: &Exposure, assembly: &Assembly, trace: Trace) -> DiscWatch {
    DiscWatch::new(trace, assembly.node_behind, exposure.temp_room, exposure.disc.cap_area())
}

/// Times that the disc tells, in order: 12 K, 24 K, Stoll, the plies' limits.
pub fn disc_times(watch: &DiscWatch) -> Vec<Option<f64>> {
    let [rise12, rise24] = watch.events.rises;
    let mut times = vec![rise12, rise24, watch.events.stoll];
    times.extend(&watch.trace.limits_passed);
    times
}

/// The watch on skin.
pub fn skin_watch(
    exposure: &Exposure,
    skin: &Skin,
    assembly: &Assembly,
    trace: Trace,
) -> SkinWatch {
    let mut bases = assembly.parts.iter().filter(|p| p.kind == PartKind::Skin).map(|p| p.last);
    let basal = bases.next().unwrap_or(assembly.node_behind);
    let dermal = bases.next().unwrap_or(basal);
    let mut events = SkinEvents::new(skin, basal, dermal);
    events.flame_end = exposure.duration.unwrap_or(f64::INFINITY);
    SkinWatch::new(trace, events)
}

/// Times that skin tells, in order: 44 °C, first, second and third degree, the plies' limits.
pub fn skin_times(watch: &SkinWatch) -> Vec<Option<f64>> {
    let mut times = vec![watch.events.basal_44];
    times.extend(watch.events.degrees);
    times.extend(&watch.trace.limits_passed);
    times
}
