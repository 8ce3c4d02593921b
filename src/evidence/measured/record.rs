//! A prediction beside a measurement, the three classes of measurements, and their summary.

/// Median absolute difference that the project aims at [–].
pub const GOAL: f64 = 0.15;

/// How well a measured case is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Class {
    /// Published, every value of it seen.
    Complete,
    /// Published, a property missing: the property is given its plausible range.
    Interval,
    /// A band recalled from practice or from papers that were not at hand.
    Band,
}

impl Class {
    /// All of them as they are shown: fabric, where predictions lie furthest off, before bare skin.
    pub const ALL: [Class; 3] = [Class::Interval, Class::Band, Class::Complete];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Class::Complete => "complete",
            Class::Interval => "interval",
            Class::Band => "band from memory",
        }
    }

    /// What it means, for the reader.
    pub fn describe(self) -> &'static str {
        match self {
            Class::Complete => "published, every value of the case seen",
            Class::Interval => "published, a property missing and given its plausible range",
            Class::Band => "recalled without a source; a comparison, never a validation",
        }
    }
}

/// What a measured case is exposed to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Bare skin under radiant heat.
    Skin,
    /// Fabric over a flame.
    Flame,
    /// Fabric under radiant heat.
    Radiant,
    /// A material between plates of steady temperature.
    Conductivity,
    /// One specimen in the flame and under radiation.
    Both,
}

impl Kind {
    /// All of them.
    pub const ALL: [Kind; 5] =
        [Kind::Flame, Kind::Radiant, Kind::Both, Kind::Conductivity, Kind::Skin];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Skin => "bare skin",
            Kind::Flame => "flame",
            Kind::Radiant => "radiant",
            Kind::Conductivity => "conductivity",
            Kind::Both => "flame and radiant",
        }
    }
}

/// What stood before the disc, as far as bands tell layups apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Subject {
    /// One felt or batting.
    Felt,
    /// One woven or knit.
    Woven,
    /// Two plies.
    TwoPlies,
    /// Three and more plies.
    ManyPlies,
    /// Bare skin.
    Skin,
    /// A material by itself, of whatever layup.
    Material,
}

impl Subject {
    /// Those that a band speaks of.
    pub const OF_BANDS: [Subject; 5] =
        [Subject::Felt, Subject::ManyPlies, Subject::TwoPlies, Subject::Woven, Subject::Skin];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Subject::Felt => "one felt or batting",
            Subject::Woven => "one woven or knit",
            Subject::TwoPlies => "two plies",
            Subject::ManyPlies => "three and more plies",
            Subject::Skin => "bare skin",
            Subject::Material => "material",
        }
    }
}

/// Whether anything of the case was used to set the prediction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Nothing of the case.
    Uncalibrated,
    /// One measured figure of the case set one number; the others are predicted.
    Scaled,
}

/// Where predicted and measured ranges lie to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// The narrower lies inside the wider.
    Inside,
    /// They overlap.
    Partly,
    /// They do not touch.
    Outside,
}

impl Place {
    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Place::Inside => "inside",
            Place::Partly => "partly",
            Place::Outside => "outside",
        }
    }
}

/// A prediction beside what was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// What was measured, in words.
    pub name: String,
    /// How well the case is known.
    pub class: Class,
    /// What it was exposed to.
    pub kind: Kind,
    /// What stood before the disc.
    pub subject: Subject,
    /// The figure that was read, such as "HTI24" or "RHTI24 − RHTI12".
    pub figure: String,
    /// Whether anything of the case set the prediction.
    pub basis: Basis,
    /// Unit of all values; empty for a plain number.
    pub unit: String,
    /// Both ends of what was measured: a band, or the rounding of the printed value.
    pub measured: (f64, f64),
    /// The prediction with every missing property in the middle of its range.
    pub predicted: f64,
    /// Both ends of the prediction over the missing properties, or its numerical error.
    pub range: (f64, f64),
    /// Where it was published, or that it has no source.
    pub source: String,
    /// How it is known.
    pub provenance: String,
    /// What a reader must know of it: the likely cause of a difference, what was assumed.
    pub note: String,
}

impl Comparison {
    /// The measured value, or the middle of its band.
    pub fn measured_middle(&self) -> f64 {
        0.5 * (self.measured.0 + self.measured.1)
    }

    /// Whether a range was measured or remembered, not a value.
    pub fn is_range(&self) -> bool {
        self.class == Class::Band || self.kind == Kind::Conductivity
    }

    /// Whether the case agrees: within [`GOAL`] of a complete case's value, or both ranges inside one another.
    pub fn agrees(&self) -> bool {
        match self.class {
            Class::Complete => self.difference().abs() <= GOAL,
            _ => self.place() == Place::Inside,
        }
    }

    /// Signed difference of the prediction relative to the measured value; for a range relative to
    /// its nearest end, 0 inside [–].
    pub fn difference(&self) -> f64 {
        let (low, high) = self.measured;
        let against = match self.is_range() {
            true if self.predicted >= low && self.predicted <= high => return 0.0,
            true if self.predicted < low => low,
            true => high,
            false => self.measured_middle(),
        };
        self.predicted / against - 1.0
    }

    /// Measured over predicted, each in the middle: the factor on the prediction at which the bench
    /// lies [–]; NaN where the prediction is not reached, which has no such factor.
    pub fn ratio(&self) -> f64 {
        if self.predicted.is_finite() { self.measured_middle() / self.predicted } else { f64::NAN }
    }

    /// How far off it lies, for an order of what is worst: size of the logarithm of the ratio;
    /// infinite where the prediction is not reached.
    pub fn distance(&self) -> f64 {
        let size = libm::log(1.0 + self.difference()).abs();
        if size.is_nan() { f64::INFINITY } else { size }
    }

    /// Where the predicted range lies to the measured one.
    pub fn place(&self) -> Place {
        let ((a, b), (c, d)) = (self.range, self.measured);
        let holds = |lo: f64, hi: f64, from: f64, to: f64| lo <= from && to <= hi;
        if holds(a, b, c, d) || holds(c, d, a, b) {
            Place::Inside
        } else if a <= d && c <= b {
            Place::Partly
        } else {
            Place::Outside
        }
    }
}

/// A published finding of the form "more of this gives more of that".
#[derive(Debug, Clone, PartialEq)]
pub struct Sign {
    /// The finding.
    pub claim: String,
    /// Who found it, or that it has no source.
    pub source: &'static str,
    /// What was compared, in words, and the values in order.
    pub what: String,
    /// The values that the finding orders.
    pub values: Vec<f64>,
    /// Unit of the values.
    pub unit: &'static str,
    /// Whether the program finds the same.
    pub is_right: bool,
    /// Why not, or what limits the comparison.
    pub note: String,
}

/// Cases of one class, kind and basis taken together.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// The class.
    pub class: Class,
    /// The kind of exposure; none: all kinds.
    pub kind: Option<Kind>,
    /// The basis.
    pub basis: Basis,
    /// How many cases.
    pub n: usize,
    /// How many agree, see [`Comparison::agrees`].
    pub n_agreeing: usize,
    /// Median of the signed differences [–].
    pub median: f64,
    /// Median of the absolute differences [–].
    pub median_absolute: f64,
    /// The difference that is largest in size, with its sign [–].
    pub largest: f64,
}

/// Median; NaN of nothing or of anything that is no number.
pub fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    match sorted.len() {
        0 => f64::NAN,
        _ if sorted.iter().any(|v| v.is_nan()) => f64::NAN,
        n if n % 2 == 1 => sorted[n / 2],
        n => 0.5 * (sorted[n / 2 - 1] + sorted[n / 2]),
    }
}

/// The summary of some comparisons of one class; none of nothing.
fn summary(
    (class, kind, basis): (Class, Option<Kind>, Basis),
    all: &[Comparison],
) -> Option<Summary> {
    let of_kind = |c: &&Comparison| {
        c.class == class && c.basis == basis && kind.is_none_or(|kind| c.kind == kind)
    };
    let found: Vec<&Comparison> = all.iter().filter(of_kind).collect();
    let differences: Vec<f64> = found.iter().map(|c| c.difference()).collect();
    let sizes: Vec<f64> = differences.iter().map(|d| d.abs()).collect();
    let largest = differences.iter().copied().max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    Some(Summary {
        class,
        kind,
        basis,
        n: found.len(),
        n_agreeing: found.iter().filter(|c| c.agrees()).count(),
        median: median(&differences),
        median_absolute: median(&sizes),
        largest,
    })
}

/// One summary for each class, kind and basis that has cases, in order.
pub fn summaries(all: &[Comparison]) -> Vec<Summary> {
    let mut found = Vec::new();
    for class in Class::ALL {
        for basis in [Basis::Uncalibrated, Basis::Scaled] {
            for kind in Kind::ALL {
                found.extend(summary((class, Some(kind), basis), all));
            }
        }
    }
    found
}

/// Median absolute difference of the uncalibrated cases of some classes that have a measured
/// value, ranges left out [–].
pub fn median_absolute(all: &[Comparison], classes: &[Class]) -> f64 {
    let counts = |c: &&Comparison| {
        classes.contains(&c.class) && c.basis == Basis::Uncalibrated && !c.is_range()
    };
    let sizes: Vec<f64> = all.iter().filter(counts).map(|c| c.difference().abs()).collect();
    median(&sizes)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn case(measured: (f64, f64), predicted: f64, range: (f64, f64), class: Class) -> Comparison {
        Comparison {
            name: String::new(),
            class,
            kind: Kind::Flame,
            subject: Subject::Felt,
            figure: "HTI24".into(),
            basis: Basis::Uncalibrated,
            unit: "s".into(),
            measured,
            predicted,
            range,
            source: String::new(),
            provenance: String::new(),
            note: String::new(),
        }
    }

    #[test]
    fn differences_have_a_sign_and_a_band_has_room() {
        let off = |c: Comparison| c.difference();
        assert!((off(case((9.0, 11.0), 12.0, (12.0, 12.0), Class::Interval)) - 0.2).abs() < 1e-12);
        assert_eq!(off(case((9.0, 11.0), 9.5, (9.0, 10.0), Class::Band)), 0.0);
        assert!((off(case((10.0, 11.0), 9.0, (9.0, 9.0), Class::Band)) + 0.1).abs() < 1e-12);
    }

    #[test]
    fn ranges_lie_inside_partly_or_outside() {
        let place = |range| case((4.0, 6.0), 5.0, range, Class::Band).place();
        assert_eq!(place((4.5, 5.0)), Place::Inside);
        assert_eq!(place((3.0, 7.0)), Place::Inside);
        assert_eq!(place((3.0, 5.0)), Place::Partly);
        assert_eq!(place((1.0, 3.0)), Place::Outside);
        assert_eq!(place((f64::NAN, f64::NAN)), Place::Outside);
    }

    #[test]
    fn medians_and_largest() {
        assert_eq!(median(&[3.0, 1.0, 2.0]), 2.0);
        assert_eq!(median(&[4.0, 1.0, 2.0, 3.0]), 2.5);
        assert!(median(&[]).is_nan() && median(&[1.0, f64::NAN, 2.0]).is_nan());
        let all: Vec<Comparison> =
            [8.0, 9.0, 10.5].map(|p| case((10.0, 10.0), p, (p, p), Class::Interval)).to_vec();
        let found = summaries(&all);
        assert_eq!((found.len(), found[0].n), (1, 3));
        assert!((found[0].median + 0.1).abs() < 1e-12, "{found:?}");
        assert!((found[0].median_absolute - 0.1).abs() < 1e-12);
        assert!((found[0].largest + 0.2).abs() < 1e-12);
    }
}
