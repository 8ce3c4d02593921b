//! Watches set up as an exposure sets them up, for studies that look at more than its figures.

use crate::bench::assemble::Assembly;
use crate::bench::ply_limit::LimitWatch;
use crate::bench::watch_disc::DiscEvents;
use crate::bench::watch_skin::SkinEvents;
use crate::garment::exposure::Exposure;
use crate::garment::skin::Skin;
use crate::solver::watch::{Next, Step, Watch};
use crate::study::answer::Quilts;

/// What every study asks of its exposures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms<'a> {
    /// The exposure.
    pub exposure: &'a Exposure,
    /// The skin model.
    pub skin: &'a Skin,
    /// Numerical error allowed, relative to each time [–], above 0.
    pub error_goal: f64,
    /// Whether quilting is computed.
    pub quilts: Quilts,
}

/// The events of disc or skin, and the plies' limits.
#[derive(Debug, Clone)]
pub struct Timed<E> {
    /// The events.
    pub events: E,
    /// The limits.
    pub limits: LimitWatch,
}

impl<E: Watch> Watch for Timed<E> {
    fn step(&mut self, step: &Step<'_>) -> Next {
        self.limits.note(step);
        self.events.step(step)
    }
}

/// The watch on the copper disc.
pub fn disc_watch(exposure: &Exposure, assembly: &Assembly) -> Timed<DiscEvents> {
    let cap_area = exposure.disc.cap_area();
    let events = DiscEvents::new(assembly.node_behind, exposure.temp_room, cap_area);
    Timed { events, limits: LimitWatch::new(assembly) }
}

/// The watch on skin.
pub fn skin_watch(exposure: &Exposure, skin: &Skin, assembly: &Assembly) -> Timed<SkinEvents> {
    let [basal, dermal] = assembly.skin_bases();
    let mut events = SkinEvents::new(skin, basal, dermal);
    events.flame_end = exposure.duration.unwrap_or(f64::INFINITY);
    Timed { events, limits: LimitWatch::new(assembly) }
}

/// Times that skin tells, in order: 44 °C, first, second and third degree, the plies' limits.
pub fn skin_times(watch: &Timed<SkinEvents>) -> Vec<Option<f64>> {
    let mut times = vec![watch.events.basal_44];
    times.extend(watch.events.degrees);
    times.extend(&watch.limits.passed);
    times
}
