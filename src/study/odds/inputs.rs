//! What varies: each input, its size, and a layup and exposure drawn from it.
//!
//! Sizes are proportional: a property is its value times exp(s·x), x standard normal, so that it
//! stays above 0; a share (emissivity, transmissivity, radiant share) moves on the logit scale, so
//! that it also stays below 1. A limit of the method, and a range that an exposure tells of its flame, is
//! even between its ends.
//!
//! The model itself is a factor on the figure, log-normal, whose 5 % and 95 % quantiles are the lower and
//! the upper factor of its class (`bands.csv`): its middle is √(lower · upper) and not 1 where the bench
//! lies to one side of the prediction. A figure that the tolerances leave alone is called above
//! exactly where 95 % of the model's draws reach the target.
//!
//! Mass and thickness are correlated: x of the thickness is ρ times that of the mass of the same
//! ply and √(1 − ρ²) times its own. Conductivity and the void of a face follow both.

use std::fmt;

use crate::garment::band::Factors;
use crate::garment::exposure::Exposure;
use crate::garment::known::{Known, Provenance};
use crate::garment::layup::Layup;
use crate::garment::press::of_roll;
use crate::garment::property::OfPly;
use crate::study::bits::{choices, records};
use crate::study::odds::basis::Spread;
use crate::study::odds::defaults::{self, Class, HALF_95, by_provenance};
use crate::study::odds::normal::{Z_95, normal_quantile};
use crate::study::odds::points::Design;
use crate::study::odds::surface;
use crate::study::property::{OfQuilting, Property, properties};
use crate::study::quilt::lay::press_in_proportion;

/// For what a draw is the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Per {
    /// All specimens of a set.
    Set,
    /// One specimen.
    Specimen,
}

/// What a factor moves.
#[derive(Debug, Clone, Copy, PartialEq)]
enum What {
    Mass(usize),
    Thickness(usize),
    Of(Property),
    Model,
}

/// How a factor's coordinate is spread.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Shape {
    /// Normal on the logarithm; the size is its standard deviation.
    Log,
    /// Normal on the logit; the size is its standard deviation.
    Logit,
    /// Even between the ends; the size is the half width.
    Even,
}

/// One independent coordinate.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Factor {
    what: What,
    shape: Shape,
    size: f64,
    per: Per,
}

records! {
    Factor { what, shape, size, per }
    Input { which, of_set, of_specimen, origin, factors }
    Inputs { all, model, factors }
}

choices! {
    Per { Set, Specimen }
    What { Mass(j), Thickness(j), Of(property), Model }
    Shape { Log, Logit, Even }
    Which { Mass(j), Thickness(j), Of(property), Model }
    Origin { Own, Provenance(provenance), Method, Model }
}

impl Factor {
    /// The standard coordinate of `u` in (0, 1): normal, or even from −1 to 1.
    fn standard(&self, u: f64) -> f64 {
        match self.shape {
            Shape::Even => 2.0 * u - 1.0,
            Shape::Log | Shape::Logit => normal_quantile(u),
        }
    }
}

/// Which input, for the reader.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Which {
    /// Mass of ply `j`, 0 outermost, with the thickness that goes with it.
    Mass(usize),
    /// Thickness of ply `j` at given mass.
    Thickness(usize),
    /// A property that moves alone.
    Of(Property),
    /// The model itself.
    Model,
}

/// Where a tolerance comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Origin {
    /// Given beside the value.
    Own,
    /// The default for how the value is known.
    Provenance(Provenance),
    /// A limit of the method or a default of its bench.
    Method,
    /// Named by the user, or the default of the model.
    Model,
}

/// One input: one or more factors that are told together.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Which.
    pub which: Which,
    /// Half width of the central 95 % that is the same for a set [–]; 0 for none.
    pub of_set: f64,
    /// Half width of the central 95 % from specimen to specimen [–]; 0 for none.
    pub of_specimen: f64,
    /// Where the former comes from, or the latter where there is no other.
    pub origin: Origin,
    factors: Vec<usize>,
}

/// All inputs of a layup and its exposure.
#[derive(Debug, Clone, PartialEq)]
pub struct Inputs {
    /// The inputs in the order of the stack; the model's last, if it varies.
    pub all: Vec<Input>,
    /// Factors on the figure between which 90 % of the model's draws lie.
    pub model: Factors,
    factors: Vec<Factor>,
}

/// What varies beside the values of the layup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Further {
    /// Limit of the flux of the method [–]; 0 holds.
    pub flux: f64,
    /// The model itself; [`Factors::EXACT`] holds.
    pub model: Factors,
}

/// A fabric drawn denser than its fibre.
#[derive(Debug, Clone, PartialEq)]
pub struct TooDense {
    /// Name of the fabric.
    pub fabric: String,
}

impl fmt::Display for TooDense {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "fabric `{}` was drawn denser than its fibre", self.fabric)
    }
}

impl Inputs {
    /// What varies in a layup and its exposure; what is zero or held does not.
    pub fn of(layup: &Layup, exposure: &Exposure, further: Further) -> Inputs {
        let model = further.model;
        let mut inputs = Inputs { all: Vec::new(), model, factors: Vec::new() };
        for (j, ply) in layup.plies().enumerate() {
            let fabric = &ply.fabric;
            inputs.push_roll(Which::Mass(j), &fabric.areal_density);
            inputs.push_roll(Which::Thickness(j), &fabric.thickness);
        }
        for property in properties(layup, exposure) {
            inputs.push_property(property, layup, exposure, further);
        }
        // half of the central 95 %, about the middle
        let half = libm::expm1(HALF_95 * libm::log(model.upper / model.lower) / (2.0 * Z_95));
        let per_set = (half, 0.0);
        inputs.push(Which::Model, per_set, Origin::Model, &[(What::Model, Shape::Log)]);
        inputs
    }

    /// Mass or thickness of a ply, with lots and specimens.
    fn push_roll(&mut self, which: Which, known: &Known) {
        let (class, what, of_lot, of_specimen) = match which {
            Which::Mass(j) => {
                (Class::Mass, What::Mass(j), defaults::LOT_MASS, defaults::SPECIMEN_MASS)
            }
            Which::Thickness(j) => (
                Class::Thickness,
                What::Thickness(j),
                defaults::LOT_THICKNESS,
                defaults::SPECIMEN_THICKNESS,
            ),
            Which::Of(_) | Which::Model => return,
        };
        let (of_set, origin) = match known.tolerance {
            Some(own) => (own, Origin::Own),
            None => {
                let of_value = by_provenance(class, known.provenance);
                (libm::hypot(of_value, of_lot), Origin::Provenance(known.provenance))
            }
        };
        self.push(which, (of_set, of_specimen), origin, &[(what, Shape::Log)]);
    }

    fn push_property(
        &mut self,
        property: Property,
        layup: &Layup,
        exposure: &Exposure,
        further: Further,
    ) {
        let value = property.value(layup, exposure);
        let shape = match property {
            Property::Ply(_, OfPly::Emissivity | OfPly::Transmissivity)
            | Property::RadiantShare => Shape::Logit,
            Property::Flux => Shape::Even,
            _ => Shape::Log,
        };
        let own = of_range(layup, exposure, property);
        let shape = if own.is_some() { Shape::Even } else { shape };
        if shape == Shape::Logit && value >= 1.0 {
            return;
        }
        let (sizes, origin) = match property {
            // both are drawn with the roll
            Property::Ply(_, OfPly::ArealDensity | OfPly::Thickness) => return,
            // told together with the conductivity
            Property::Ply(_, OfPly::ConductivityRise) => return,
            Property::Ply(j, of) => of_ply(layup, j, of),
            Property::Gap(j) => layup.gaps().nth(j).map_or(NOTHING, |gap| of_gap(&gap.thickness)),
            // air between plies like any gap's; the other lengths are held
            Property::Quilting(OfQuilting::Loft) => {
                layup.quilting.as_ref().map_or(NOTHING, |quilting| of_gap(&quilting.loft))
            }
            Property::Quilting(_) => return,
            Property::Flux => ((further.flux, 0.0), Origin::Method),
            Property::RadiantShare | Property::FlameTemperature if own.is_some() => {
                ((own.unwrap_or(0.0), 0.0), Origin::Own)
            }
            Property::RadiantShare => ((defaults::RADIANT_SHARE, 0.0), Origin::Method),
            Property::FlameTemperature => ((defaults::FLAME_TEMPERATURE, 0.0), Origin::Method),
            Property::DiscHeatCapacity => ((defaults::DISC_HEAT_CAPACITY, 0.0), Origin::Method),
        };
        let whats = match property {
            Property::Ply(j, OfPly::Conductivity) => {
                let rise = Property::Ply(j, OfPly::ConductivityRise);
                let mut whats = vec![(What::Of(property), shape, None)];
                if rise.value(layup, exposure) != 0.0 {
                    let ((of_rise, _), _) = of_ply(layup, j, OfPly::ConductivityRise);
                    whats.push((What::Of(rise), shape, Some(of_rise)));
                }
                whats
            }
            _ => vec![(What::Of(property), shape, None)],
        };
        // on the logit scale the same relative width takes 1/(1 − value) of it
        let stretch = if shape == Shape::Logit { 1.0 / (1.0 - value) } else { 1.0 };
        self.push_stretched(Which::Of(property), sizes, origin, &whats, stretch);
    }

    fn push(&mut self, which: Which, sizes: (f64, f64), origin: Origin, whats: &[(What, Shape)]) {
        let whats: Vec<_> = whats.iter().map(|(what, shape)| (*what, *shape, None)).collect();
        self.push_stretched(which, sizes, origin, &whats, 1.0);
    }

    /// Each of `whats` is drawn by itself; one with a width of its own [–] takes that for a set.
    fn push_stretched(
        &mut self,
        which: Which,
        (of_set, of_specimen): (f64, f64),
        origin: Origin,
        whats: &[(What, Shape, Option<f64>)],
        stretch: f64,
    ) {
        let mut factors = Vec::new();
        for (per, width) in [(Per::Set, of_set), (Per::Specimen, of_specimen)] {
            for (what, shape, own) in whats {
                let width = own.filter(|_| per == Per::Set).unwrap_or(width);
                if width <= 0.0 {
                    continue;
                }
                let size = match shape {
                    Shape::Log => libm::log1p(width) / HALF_95,
                    Shape::Logit => stretch * width / HALF_95,
                    Shape::Even => width,
                };
                factors.push(self.factors.len());
                self.factors.push(Factor { what: *what, shape: *shape, size, per });
            }
        }
        if !factors.is_empty() {
            self.all.push(Input { which, of_set, of_specimen, origin, factors });
        }
    }

    /// Coordinates of one draw.
    pub fn n_factors(&self) -> usize {
        self.factors.len()
    }

    /// How each coordinate is spread.
    pub fn spreads(&self) -> Vec<Spread> {
        let of = |factor: &Factor| match factor.shape {
            Shape::Even => Spread::Even,
            Shape::Log | Shape::Logit => Spread::Normal,
        };
        self.factors.iter().map(of).collect()
    }

    /// The coordinates that an input moves.
    pub fn coordinates_of(&self, input: usize) -> &[usize] {
        &self.all[input].factors
    }

    /// Whether the input moves nothing but the model's own factor.
    pub fn is_model(&self, input: usize) -> bool {
        self.all[input].which == Which::Model
    }

    /// The dimension of each coordinate of specimen `specimen` in a design of whole sets.
    pub fn dimensions(&self, specimen: usize) -> Vec<usize> {
        let n_of = |per: Per| self.factors.iter().filter(|factor| factor.per == per).count();
        let (n_set, n_specimen) = (n_of(Per::Set), n_of(Per::Specimen));
        let (mut of_set, mut of_specimen) = (0, n_set + specimen * n_specimen);
        let place = |factor: &Factor| {
            let next = match factor.per {
                Per::Set => &mut of_set,
                Per::Specimen => &mut of_specimen,
            };
            *next += 1;
            *next - 1
        };
        self.factors.iter().map(place).collect()
    }

    /// Puts the coordinates of an input from `from` into `to`.
    pub fn swap(&self, input: usize, from: &[f64], to: &mut [f64]) {
        for place in &self.all[input].factors {
            to[*place] = from[*place];
        }
    }

    /// Standard coordinates of a specimen of a set in a design of whole sets.
    pub fn coordinates(&self, design: Design, set: usize, specimen: usize) -> Vec<f64> {
        let dimensions = self.dimensions(specimen);
        let u: Vec<f64> = dimensions.iter().map(|d| design.at(set, *d)).collect();
        self.standard(&u)
    }

    /// The standard coordinates of a point of the unit cube.
    pub fn standard(&self, u: &[f64]) -> Vec<f64> {
        self.factors.iter().zip(u).map(|(factor, u)| factor.standard(*u)).collect()
    }

    /// Standard coordinates with one input alone moved, to its quantile `p`.
    ///
    /// Its factors move together, each by its share of the whole standard deviation.
    pub fn alone(&self, input: usize, p: f64) -> Vec<f64> {
        let mut x = vec![0.0; self.factors.len()];
        let places = &self.all[input].factors;
        let whole = places.iter().map(|i| self.factors[*i].size.powi(2)).sum::<f64>().sqrt();
        for i in places {
            x[*i] = self.factors[*i].standard(p) * self.factors[*i].size / whole;
        }
        x
    }

    /// The case at standard coordinates `x`.
    ///
    /// Errors: a fabric denser than its fibre.
    pub fn draw(
        &self,
        layup: &Layup,
        exposure: &Exposure,
        x: &[f64],
    ) -> Result<(Layup, Exposure), TooDense> {
        let (mut layup, mut exposure) = (layup.clone(), exposure.clone());
        let before = layup.plies_thickness();
        self.draw_rolls(&mut layup, x)?;
        press_in_proportion(&mut layup, before);
        for (factor, x) in self.factors.iter().zip(x) {
            let What::Of(property) = factor.what else { continue };
            let value = property.value(&layup, &exposure);
            let moved = match factor.shape {
                Shape::Log => libm::exp(factor.size * x),
                Shape::Even => 1.0 + factor.size * x,
                Shape::Logit => 1.0 / (value + (1.0 - value) * libm::exp(-factor.size * x)),
            };
            property.scale(&mut layup, &mut exposure, moved);
        }
        Ok((layup, exposure))
    }

    /// Factor on the figure by which the model itself is off at standard coordinates `x` [–].
    pub fn model(&self, x: &[f64]) -> f64 {
        let own = self.factors.iter().zip(x).filter(|(factor, _)| factor.what == What::Model);
        let middle = (self.model.lower * self.model.upper).sqrt();
        middle * own.map(|(factor, x)| libm::exp(factor.size * x)).product::<f64>()
    }

    /// Mean and variance of that factor.
    pub fn model_moments(&self) -> surface::Factor {
        let own = self.factors.iter().filter(|factor| factor.what == What::Model);
        let squares: f64 = own.map(|factor| factor.size * factor.size).sum();
        let middle = (self.model.lower * self.model.upper).sqrt();
        let mean = middle * libm::exp(0.5 * squares);
        surface::Factor { mean, variance: mean * mean * libm::expm1(squares) }
    }

    /// Mass and thickness of each ply, and what follows them.
    fn draw_rolls(&self, layup: &mut Layup, x: &[f64]) -> Result<(), TooDense> {
        for (j, ply) in layup.plies_mut().enumerate() {
            let fabric = &ply.fabric;
            let mass = libm::exp(self.log_mass(j, x)) * fabric.areal_density.value;
            let thickness = libm::exp(self.log_thickness(j, x)) * fabric.thickness.value;
            if mass / thickness > fabric.fibre_density.value {
                return Err(TooDense { fabric: fabric.name.clone() });
            }
            ply.fabric = of_roll(fabric, mass, thickness);
        }
        Ok(())
    }

    fn log_mass(&self, ply: usize, x: &[f64]) -> f64 {
        let own = self.factors.iter().zip(x).filter(|(f, _)| f.what == What::Mass(ply));
        own.map(|(factor, x)| factor.size * x).sum()
    }

    fn log_thickness(&self, ply: usize, x: &[f64]) -> f64 {
        let mass_of = |per: Per| {
            let of = |f: &&Factor| f.what == What::Mass(ply) && f.per == per;
            self.factors.iter().position(|f| of(&f)).map(|i| x[i])
        };
        let own = self.factors.iter().zip(x).filter(|(f, _)| f.what == What::Thickness(ply));
        let moved = own.map(|(factor, x)| {
            // a mass that is held leaves the thickness its whole spread
            let rho = defaults::MASS_WITH_THICKNESS;
            let with_mass = mass_of(factor.per);
            let alone = if with_mass.is_some() { (1.0 - rho * rho).sqrt() } else { 1.0 };
            factor.size * (rho * with_mass.unwrap_or(0.0) + alone * x)
        });
        moved.sum()
    }
}

/// A range that is told of a value: any in it is as likely.
fn of_range(layup: &Layup, exposure: &Exposure, property: Property) -> Option<f64> {
    match property {
        Property::RadiantShare => exposure.boundary.radiant_share.tolerance,
        Property::FlameTemperature => exposure.boundary.temp_flame.tolerance,
        // anything from opened alone to thinner alone
        Property::Ply(j, OfPly::Thinning) => Some(of_ply(layup, j, OfPly::Thinning).0.0),
        _ => None,
    }
}

fn of_ply(layup: &Layup, j: usize, of: OfPly) -> ((f64, f64), Origin) {
    let Some(ply) = layup.plies().nth(j) else { return ((0.0, 0.0), Origin::Method) };
    let known = of.known(&ply.fabric);
    let provenance = match of {
        // one factor moves value and rise: it is as wide as the weaker of them asks for
        OfPly::SpecificHeat => known.provenance.max(known.rise_provenance()),
        _ => known.provenance,
    };
    let class = match of {
        OfPly::Emissivity => Class::Emissivity,
        OfPly::CharHeat => Class::CharHeat,
        _ => Class::Other,
    };
    match known.tolerance {
        Some(own) => ((own, 0.0), Origin::Own),
        None => ((by_provenance(class, provenance), 0.0), Origin::Provenance(provenance)),
    }
}

/// Widths of what is not there.
const NOTHING: ((f64, f64), Origin) = ((0.0, 0.0), Origin::Method);

/// A gap scatters from specimen to specimen; its own tolerance is that scatter.
fn of_gap(known: &Known) -> ((f64, f64), Origin) {
    match known.tolerance {
        Some(own) => ((0.0, own), Origin::Own),
        None => {
            let of_value = by_provenance(Class::Other, known.provenance);
            ((of_value, defaults::GAP_SCATTER), Origin::Provenance(known.provenance))
        }
    }
}
