//! From a layup, an exposure and what is behind to the solver's plain description.

use crate::bench::charring::reacting;
use crate::bench::effects::{Effect, Without};
use crate::bench::limit::Limit;
use crate::bench::vapour::{moves, sorbent};
use crate::garment::exposure::{Exposure, Flux, Orientation};
use crate::garment::fabric::Fabric;
use crate::garment::layup::{Entry, Layup, Ply, PlyJoint};
use crate::garment::skin::Skin;
use crate::garment::wet::conductivity_of_water;
use crate::physics::gap::Convection;
use crate::physics::law::Law;
use crate::physics::units::kelvin;
use crate::physics::{air, beer, moisture, radiation, vapour};
use crate::solver::grid;
use crate::solver::problem::{Back, Change, Drive, Joint, Medium, Piece, Problem, Sink, Slab};

/// Emissivity of skin in the infrared [–]; from memory, textbooks give 0.95 to 0.98.
pub const EMISSIVITY_SKIN: f64 = 0.95;
/// Height of a vertical specimen [m], which enters the convection of wide gaps only; common practice, no source.
pub const SPECIMEN_HEIGHT: f64 = 0.1;
/// Air between faces that is thinner than this counts as none [m].
const FACE_AIR_LEAST: f64 = 1e-6;
/// Temperature whose properties are held when they do not rise [°C].
const TEMP_PROPERTIES_C: f64 = 25.0;
/// Temperature at which the air's small heat capacity is taken [K].
const TEMP_AIR_CAPACITY: f64 = 400.0;

/// What stands behind the layup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Backing<'a> {
    /// The copper disc of the exposure's method.
    Disc,
    /// Skin.
    Skin(&'a Skin),
}

/// How finely slabs are cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mesh {
    /// Cells of a slab that heat crosses in one second by √(L²/α) [1/√s].
    pub cells_per_root_second: f64,
    /// Fewest cells in a slab.
    pub n_cells_least: usize,
    /// How often every cell is halved.
    pub n_halvings: usize,
}

impl Mesh {
    /// The coarsest mesh worth solving on, halved `n_halvings` times.
    pub fn level(n_halvings: usize) -> Mesh {
        Mesh { cells_per_root_second: 2.2, n_cells_least: 2, n_halvings }
    }

    /// Cells of a slab of diffusivity `alpha` [m²/s], by its place in the chain [m].
    pub fn cells(&self, thickness: f64, alpha: f64, grading: Grading) -> Vec<f64> {
        let equal = self.cells_per_root_second * thickness / alpha.sqrt();
        let (ratio, wanted) = match grading {
            Grading::Equal => (1.0, equal),
            Grading::FromFace { ratio, finer } => {
                (ratio, libm::log(1.0 + finer * equal * (ratio - 1.0)) / libm::log(ratio))
            }
        };
        let n_cells = (wanted.ceil() as usize).max(self.n_cells_least);
        self.halved(grid::graded_cells(thickness, n_cells, ratio))
    }

    /// The cells, each halved as often as the level asks.
    fn halved(&self, cells: Vec<f64>) -> Vec<f64> {
        (0..self.n_halvings).fold(cells, |cells, _| grid::halved(&cells))
    }

    /// The cells of a slab, the last of which before halving is cut anew: each half of the one before it,
    /// towards the inner face, and one more at each level, so that the order of the mesh holds there too.
    fn finer_inwards(&self, cells: &[f64]) -> Vec<f64> {
        let (before, last) = cells.split_at(cells.len() - (1 << self.n_halvings));
        let cut = grid::halving_cells(last.iter().sum(), N_HALVINGS_CLOSED + self.n_halvings);
        [before, &self.halved(cut)].concat()
    }
}

/// How a layup is laid out: how finely, and with which effects.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setup {
    /// How finely slabs are cut.
    pub mesh: Mesh,
    /// Effects that are left out.
    pub without: Without,
}

impl Setup {
    /// Every effect, on the mesh of that level.
    pub fn level(n_halvings: usize) -> Setup {
        Setup { mesh: Mesh::level(n_halvings), without: Without::default() }
    }
}

/// How cells grow within a slab.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Grading {
    /// All of one size.
    Equal,
    /// Growing by `ratio` from the outer face, the first one `finer` times smaller than equal cells.
    FromFace { ratio: f64, finer: f64 },
}

/// The outermost ply sees the flame's step in flux: its face is resolved more finely.
const GRADING_OUTERMOST: Grading = Grading::FromFace { ratio: 1.5, finer: 2.0 };
/// How often the innermost cell of a moist ply is halved towards a face behind which no vapour goes.
///
/// What condenses there lies within some 0.1 mm, steeper the nearer to the face: with cells of the ply's
/// own size times erred by up to 2 %, by little less on the next mesh; so cut, by 0.5 % on the coarsest, and
/// each further one errs by a third or less of that. Source: our own runs of 150 made-up moist layups.
const N_HALVINGS_CLOSED: usize = 6;
/// Deeper skin changes slowly.
const GRADING_SKIN: Grading = Grading::FromFace { ratio: 1.3, finer: 1.0 };

/// One ply, gap or joint of the chain and its nodes.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Name for the reader.
    pub name: String,
    /// What kind of part.
    pub kind: PartKind,
    /// First node.
    pub first: usize,
    /// Last node.
    pub last: usize,
}

/// Kind of a [`Part`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartKind {
    /// A ply.
    Ply,
    /// An air gap.
    Gap,
    /// A joint between faces that touch.
    Joint,
    /// A layer of skin.
    Skin,
}

/// A problem for the solver and where its parts are.
#[derive(Debug, Clone)]
pub struct Assembly {
    /// The description.
    pub problem: Problem,
    /// Plies, gaps, joints and skin layers, outermost first.
    pub parts: Vec<Part>,
    /// First node of what is behind: the disc's, or the skin's surface.
    pub node_behind: usize,
    /// What ends each ply, outermost first.
    pub limits: Vec<Limit>,
}

impl Assembly {
    /// The nodes at the base of the skin's basal layer and of its dermis; where there are fewer layers, the last
    /// that there is, else that of what is behind.
    pub fn skin_bases(&self) -> [usize; 2] {
        let mut bases = self.parts.iter().filter(|p| p.kind == PartKind::Skin).map(|p| p.last);
        let basal = bases.next().unwrap_or(self.node_behind);
        [basal, bases.next().unwrap_or(basal)]
    }

    /// The same chain with as many cells in each slab as in `other`, of the same proportions.
    ///
    /// Paths side by side must be of one shape. Panics: if `other` has fewer slabs.
    pub fn cut_like(mut self, other: &Assembly) -> Assembly {
        let thickness = |cells: &[f64]| cells.iter().sum::<f64>();
        for (j, slab) in self.problem.slabs.iter_mut().enumerate() {
            let cells = &other.problem.slabs[j].cells;
            if slab.cells != *cells {
                let scale = thickness(&slab.cells) / thickness(cells);
                slab.cells = cells.iter().map(|dx| dx * scale).collect();
            }
        }
        let spans = self.problem.spans();
        let mut n_slabs = 0;
        for part in &mut self.parts {
            (part.first, part.last) = match part.kind {
                PartKind::Ply | PartKind::Skin => {
                    n_slabs += 1;
                    spans[n_slabs - 1]
                }
                // a link runs from the slab before it to the next node
                PartKind::Gap | PartKind::Joint => (spans[n_slabs - 1].1, spans[n_slabs - 1].1 + 1),
            };
        }
        self.node_behind = node_behind(&self.problem, &self.parts);
        self
    }
}

/// First node of what is behind.
fn node_behind(problem: &Problem, parts: &[Part]) -> usize {
    let skin = parts.iter().find(|part| part.kind == PartKind::Skin);
    skin.map_or(problem.n_nodes() - 1, |part| part.first)
}

/// Lays out a layup for the solver.
pub fn assemble(layup: &Layup, exposure: &Exposure, backing: Backing, setup: &Setup) -> Assembly {
    let (spacer, emissivity_behind, temp_start) = match backing {
        Backing::Disc => (exposure.spacer, exposure.disc.emissivity, exposure.temp_room),
        Backing::Skin(skin) => (0.0, EMISSIVITY_SKIN, skin.temp_surface),
    };
    let moist = moves(layup, setup.without);
    let mut chain = Chain {
        exposure,
        setup,
        temp_start,
        moist,
        slabs: vec![],
        links: vec![],
        names: vec![],
        limits: vec![],
    };
    let mut rest = layup.stack.as_slice();
    while let [Entry::Ply(ply), after @ ..] = rest {
        chain.push_ply(ply);
        let (mut gap, after) = match after {
            [Entry::Gap(gap), beyond @ ..] => (gap.thickness.value, beyond),
            _ => (0.0, after),
        };
        let next = match after {
            [Entry::Ply(next), ..] => Some(next.as_ref()),
            _ => {
                gap += spacer;
                None
            }
        };
        let emissivity_next = next.map_or(emissivity_behind, |next| next.fabric.emissivity.value);
        let link = match gap > 0.0 {
            true => chain.gap((ply, next), gap, emissivity_next),
            false if setup.without.keeps(Effect::Joints) => joint(ply, next, emissivity_next),
            false => Link::SHARED,
        };
        chain.links.push(link);
        rest = after;
    }
    let emissivity_outer = layup.plies().next().map_or(0.9, |ply| ply.fabric.emissivity.value);
    chain.finish(backing, emissivity_outer)
}

/// What follows a slab.
struct Link {
    joint: Joint,
    /// What it is to the reader, unless the faces share one temperature.
    part: Option<(String, PartKind)>,
}

impl Link {
    const SHARED: Link = Link { joint: Joint::Shared, part: None };
}

/// The joint between the inner face of `ply` and the next face.
fn joint(ply: &Ply, next: Option<&Ply>, emissivity_next: f64) -> Link {
    let joint = match &ply.joint {
        PlyJoint::Shared => return Link::SHARED,
        PlyJoint::Conductance(conductance) => Joint::Conductance(conductance.value),
        PlyJoint::Faces => {
            let depth = ply.face_air(next);
            if depth < FACE_AIR_LEAST {
                return Link::SHARED;
            }
            air_space(ply, depth, emissivity_next, Convection::Still)
        }
    };
    Link { joint, part: Some(("joint between faces".to_owned(), PartKind::Joint)) }
}

/// Air of that thickness [m] before the inner face of `ply`.
fn air_space(ply: &Ply, thickness: f64, emissivity_next: f64, convection: Convection) -> Joint {
    let rho_cp = air::density(TEMP_AIR_CAPACITY) * air::specific_heat(TEMP_AIR_CAPACITY);
    let emissivity = ply.fabric.emissivity.value;
    Joint::Air {
        thickness,
        exchange: radiation::effective_emissivity(emissivity, emissivity_next),
        convection,
        cap_area: rho_cp * thickness,
    }
}

struct Chain<'a> {
    exposure: &'a Exposure,
    setup: &'a Setup,
    temp_start: f64,
    /// Whether water moves.
    moist: bool,
    slabs: Vec<Slab>,
    /// One after each ply: to the next slab, or to what is behind.
    links: Vec<Link>,
    names: Vec<String>,
    limits: Vec<Limit>,
}

impl Chain<'_> {
    fn push_ply(&mut self, ply: &Ply) {
        let fabric = &ply.fabric;
        let medium = ply_medium(fabric, self.setup.without, self.moist);
        let thickness = fabric.thickness.value;
        let alpha = medium.k.at(self.temp_start) / medium.rho_cp.at(self.temp_start);
        let in_depth = self.setup.without.keeps(Effect::InDepth);
        let transmissivity = if in_depth { fabric.transmissivity.value } else { 0.0 };
        let grading = if self.slabs.is_empty() { GRADING_OUTERMOST } else { Grading::Equal };
        let reacting = if self.moist { reacting(fabric, self.setup.without) } else { None };
        self.limits.push(Limit::of(fabric, reacting.is_some()));
        self.slabs.push(Slab {
            medium,
            cells: self.setup.mesh.cells(thickness, alpha, grading),
            extinction: (transmissivity > 0.0).then(|| beer::extinction(transmissivity, thickness)),
            sorbent: self.moist.then(|| sorbent(fabric, self.setup.without)),
            reacting,
            temps_start: (self.temp_start, self.temp_start),
        });
        self.names.push(fabric.name.clone());
    }

    fn push_skin(&mut self, skin: &Skin) {
        let depth_all: f64 = skin.layers.iter().map(|layer| layer.thickness).sum();
        let mut depth = 0.0;
        for (j, layer) in skin.layers.iter().enumerate() {
            let at = |depth: f64| {
                skin.temp_surface + (skin.temp_core - skin.temp_surface) * depth / depth_all
            };
            let temps_start = (at(depth), at(depth + layer.thickness));
            depth += layer.thickness;
            let perfused = layer.perfusion > 0.0 && self.setup.without.keeps(Effect::Perfusion);
            let sink = Sink { rate: layer.perfusion, temp: skin.temp_core };
            let grading = if j == 0 { Grading::Equal } else { GRADING_SKIN };
            self.slabs.push(Slab {
                medium: Medium {
                    k: Law::constant(layer.k),
                    rho_cp: Law::constant(layer.rho_cp),
                    changes: Vec::new(),
                    sink: perfused.then_some(sink),
                },
                cells: self.setup.mesh.cells(layer.thickness, layer.k / layer.rho_cp, grading),
                extinction: None,
                // what condenses on skin stays on it
                sorbent: None,
                reacting: None,
                temps_start,
            });
            self.names.push(layer.name.clone());
            if j > 0 {
                self.links.push(Link::SHARED);
            }
        }
    }

    /// A gap behind `ply`: the voids of both faces add to its air, so that it goes over into the
    /// joint of touching faces as it closes.
    fn gap(&self, (ply, next): (&Ply, Option<&Ply>), gap: f64, emissivity_next: f64) -> Link {
        let without = self.setup.without;
        let voids = if without.keeps(Effect::Joints) { ply.gap_voids(next) } else { 0.0 };
        let depth = gap + voids;
        let convection = match self.exposure.orientation {
            _ if !without.keeps(Effect::Convection) => Convection::Still,
            Orientation::HeatedFromBelow => Convection::HeatedFromBelow,
            Orientation::Vertical => {
                Convection::Vertical { aspect: (SPECIMEN_HEIGHT / depth).max(1.0) }
            }
            Orientation::Still => Convection::Still,
        };
        let name = format!("air gap {:.1} mm", gap * 1e3);
        let mut joint = air_space(ply, depth, emissivity_next, convection);
        if let Joint::Air { exchange, .. } = &mut joint {
            if !without.keeps(Effect::GapRadiation) {
                *exchange = 0.0;
            }
        }
        Link { joint, part: Some((name, PartKind::Gap)) }
    }

    fn finish(mut self, backing: Backing, emissivity: f64) -> Assembly {
        let n_plies = self.slabs.len();
        let touches = self.links.last().is_some_and(|link| link.joint == Joint::Shared);
        if let Some(innermost) = self.slabs.last_mut() {
            if self.moist && touches {
                innermost.cells = self.setup.mesh.finer_inwards(&innermost.cells);
            }
        }
        let back = match backing {
            Backing::Disc => Back::Lump {
                joint: self.links.last().map_or(Joint::Shared, |link| link.joint),
                cap_area: self.exposure.disc.cap_area(),
                temp_start: self.temp_start,
            },
            Backing::Skin(skin) => {
                self.push_skin(skin);
                Back::Held
            }
        };
        let emits = self.setup.without.keeps(Effect::Emission);
        let problem = Problem {
            joints: self.links.iter().take(self.slabs.len() - 1).map(|link| link.joint).collect(),
            slabs: self.slabs,
            back,
            drive: Drive {
                pieces: pieces(self.exposure, emissivity),
                emissivity: if emits { emissivity } else { 0.0 },
                temp_surround: self.exposure.temp_room,
                blown: self.setup.without.keeps(Effect::Blowing),
            },
            source: None,
        };
        let parts = parts(&problem, &self.names, &self.links, n_plies);
        let node_behind = node_behind(&problem, &parts);
        Assembly { problem, parts, node_behind, limits: self.limits }
    }
}

/// The parts of a chain with their nodes, outermost first.
fn parts(problem: &Problem, names: &[String], links: &[Link], n_plies: usize) -> Vec<Part> {
    let mut parts = Vec::new();
    for (j, (first, last)) in problem.spans().into_iter().enumerate() {
        let kind = if j < n_plies { PartKind::Ply } else { PartKind::Skin };
        parts.push(Part { name: names[j].clone(), kind, first, last });
        if let Some((name, kind)) = links.get(j).and_then(|link| link.part.clone()) {
            parts.push(Part { name, kind, first: last, last: last + 1 });
        }
    }
    parts
}

/// The medium of a ply: dry fibre with its water, if any stays where it is; water that moves is the
/// slab's sorbent.
fn ply_medium(fabric: &Fabric, without: Without, moist: bool) -> Medium {
    let dry = fabric.dry_density();
    let rho_dry = dry / fabric.thickness.value;
    let rho_water = rho_dry * fabric.regain.value;
    let at_rise = |law: &Law| match without.keeps(Effect::Rise) {
        true => law.clone(),
        false => Law::constant(law.at(kelvin(TEMP_PROPERTIES_C))),
    };
    let mut rho_cp = at_rise(&fabric.specific_heat.value).scaled(rho_dry);
    let mut changes = Vec::new();
    if rho_water > 0.0 && without.keeps(Effect::Moisture) && !moist {
        rho_cp.base += rho_water * moisture::WATER_SPECIFIC_HEAT;
        changes.push(Change {
            heat: rho_water * moisture::WATER_LATENT_HEAT,
            rho_cp_lost: rho_water * moisture::WATER_SPECIFIC_HEAT,
            k_lost: match without.keeps(Effect::WetConduction) {
                true => conductivity_of_water(fabric),
                false => 0.0,
            },
            temp_lo: moisture::EVAPORATION_FROM,
            temp_hi: moisture::EVAPORATION_TO,
        });
    }
    if let Some(decomposition) = &fabric.decomposition {
        if without.keeps(Effect::Decomposition) {
            changes.push(Change {
                heat: rho_dry * decomposition.heat.value,
                rho_cp_lost: 0.0,
                k_lost: 0.0,
                temp_lo: decomposition.temp_from,
                temp_hi: decomposition.temp_to,
            });
        }
    }
    Medium { k: at_rise(&fabric.conductivity.value), rho_cp, changes, sink: None }
}

/// The pieces of an exposure as the outer face sees it.
fn pieces(exposure: &Exposure, emissivity: f64) -> Vec<Piece> {
    let convective = 1.0 - exposure.radiant_share;
    let radiant = emissivity * exposure.radiant_share;
    // a purely radiant source heats through the room's air, which a cold calorimeter does not feel
    let (temp_gas, film_room, per_flux) = if convective > 0.0 {
        let per_flux = convective / (exposure.temp_flame - exposure.temp_room);
        (exposure.temp_flame, 0.0, per_flux)
    } else {
        (exposure.temp_room, exposure.h_cooling, 0.0)
    };
    let flame_end = exposure.duration.map_or(exposure.t_end, |end| end.min(exposure.t_end));
    let points: Vec<(f64, f64)> = match &exposure.flux {
        Flux::Steady(flux) => vec![(0.0, *flux), (flame_end, *flux)],
        Flux::Series(points) => series_until(points, flame_end),
    };
    let mut pieces: Vec<Piece> = points
        .windows(2)
        .map(|pair| Piece {
            t_end: pair[1].0,
            h: (film_room + per_flux * pair[0].1, film_room + per_flux * pair[1].1),
            temp_gas,
            p_vapour: exposure.p_vapour_gas,
            q_rad: (radiant * pair[0].1, radiant * pair[1].1),
        })
        .collect();
    if flame_end < exposure.t_end {
        pieces.push(Piece {
            t_end: exposure.t_end,
            h: (exposure.h_cooling, exposure.h_cooling),
            temp_gas: exposure.temp_room,
            p_vapour: vapour::room_pressure(exposure.temp_room),
            q_rad: (0.0, 0.0),
        });
    }
    pieces
}

/// The points of a series up to `t_end`, the last one held beyond its time.
fn series_until(points: &[(f64, f64)], t_end: f64) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = points.iter().copied().filter(|(t, _)| *t < t_end).collect();
    let after = points.iter().find(|(t, _)| *t >= t_end);
    let before = kept.last().copied().unwrap_or((0.0, 0.0));
    let last = match after {
        Some((t, q)) => {
            // of two fluxes that are not below 0 a mean is not either, however it is rounded
            let share = (t_end - before.0) / (t - before.0);
            (1.0 - share) * before.1 + share * q
        }
        None => before.1,
    };
    kept.push((t_end, last));
    kept
}
