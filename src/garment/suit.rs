//! A suit: panels of known area, each with its layup and the target it is held against.

use crate::garment::exposure::Exposure;
use crate::garment::fabric::Fabric;
use crate::garment::known::Known;
use crate::garment::layup::{Layup, Pattern, Quilting};
use crate::garment::target::Target;
use crate::physics::body::surface_du_bois;

/// A person's measures.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// Mass [kg].
    pub mass: Known,
    /// Height [m].
    pub height: Known,
}

impl Body {
    /// Surface area of the skin [m²].
    pub fn surface(&self) -> f64 {
        surface_du_bois(self.mass.value, self.height.value)
    }
}

/// Which side of the suit a panel is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// In front alone.
    Front,
    /// On the back alone.
    Back,
    /// Round both.
    Both,
}

impl Side {
    /// All of them.
    pub const ALL: [Side; 3] = [Side::Front, Side::Back, Side::Both];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Side::Front => "front",
            Side::Back => "back",
            Side::Both => "both",
        }
    }

    /// Whether it is seen from the side `seen`, which is front or back.
    pub fn shows_on(self, seen: Side) -> bool {
        self == seen || self == Side::Both
    }
}

/// Where on the body a panel lies; decides its place in the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// Round the neck.
    Collar,
    /// Over the shoulders.
    Shoulder,
    /// Chest, or the upper back.
    Trunk,
    /// Belly and lap, or the seat.
    Hip,
    /// The arm.
    Sleeve,
    /// Round the elbow.
    Elbow,
    /// From the hip to the knee.
    Thigh,
    /// Over the knee.
    Knee,
    /// From the knee to the foot.
    Shin,
}

impl Place {
    /// All of them, from the top.
    pub const ALL: [Place; 9] = [
        Place::Collar,
        Place::Shoulder,
        Place::Trunk,
        Place::Hip,
        Place::Sleeve,
        Place::Elbow,
        Place::Thigh,
        Place::Knee,
        Place::Shin,
    ];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Place::Collar => "collar",
            Place::Shoulder => "shoulder",
            Place::Trunk => "trunk",
            Place::Hip => "hip",
            Place::Sleeve => "sleeve",
            Place::Elbow => "elbow",
            Place::Thigh => "thigh",
            Place::Knee => "knee",
            Place::Shin => "shin",
        }
    }
}

/// How wide a suit is for the body that it is drawn for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Fit {
    /// Close to the body.
    Close,
    /// As work clothes are.
    #[default]
    Regular,
    /// Wide.
    Loose,
}

impl Fit {
    /// All of them, the closest first.
    pub const ALL: [Fit; 3] = [Fit::Close, Fit::Regular, Fit::Loose];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Fit::Close => "close",
            Fit::Regular => "regular",
            Fit::Loose => "loose",
        }
    }
}

/// How the size of one piece of a panel is given.
#[derive(Debug, Clone, PartialEq)]
pub enum Extent {
    /// Its area on the suit of the pattern's body [m²].
    Area(Known),
    /// The share of the body's surface that it covers [–]; cloth is larger by the suit's ease.
    Share(Known),
}

/// Embroidery or a patch on a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Embroidery {
    /// Its fabric.
    pub fabric: Fabric,
    /// Share of the panel's area that it covers [–], above 0 and at most 1.
    pub share: f64,
    /// Share of the covered area that is thread piercing the plies [–], 0 to below 1.
    pub thread: f64,
}

/// A panel of the suit.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Unique name in the suit.
    pub name: String,
    /// Where on the body it lies.
    pub place: Place,
    /// On which side.
    pub side: Side,
    /// How many such pieces the suit has.
    pub count: u32,
    /// The size of one piece.
    pub extent: Extent,
    /// Its layup; quilted only if the panel is.
    pub layup: Layup,
    /// Embroidery or a patch on it.
    pub embroidery: Option<Embroidery>,
    /// Pressure that it is worn under [Pa]; none where nothing presses.
    pub pressure: Option<f64>,
    /// What it is held against.
    pub target: Target,
    /// The exposure of the target.
    pub exposure: Exposure,
    /// Layups that may take the place of its own, in the order of the file.
    pub alternatives: Vec<Layup>,
}

/// A suit.
#[derive(Debug, Clone, PartialEq)]
pub struct Suit {
    /// Name of the suit.
    pub name: String,
    /// What it is, in words; may be empty.
    pub note: String,
    /// The body that the areas are given for.
    pub body: Body,
    /// How wide it is for that body.
    pub fit: Fit,
    /// By how much cloth is larger than the skin that it covers [–], for panels given as a share.
    pub ease: Known,
    /// Cloth in seams and hems over the panels' area [–], for the bill alone.
    pub seam: Known,
    /// Cloth lost in cutting over what is cut [–], for the bill alone.
    pub cutting: Known,
    /// Most different layups that the suit may be made of; none for any number.
    pub layups_at_most: Option<usize>,
    /// The panels, in the order of the file.
    pub panels: Vec<Panel>,
}

impl Suit {
    /// How much larger every panel is for another body: the ratio of the bodies' surfaces [–].
    pub fn size_for(&self, body: &Body) -> f64 {
        body.surface() / self.body.surface()
    }

    /// Area of all pieces of a panel at a size [m²].
    pub fn area(&self, panel: &Panel, size: f64) -> f64 {
        let one = match &panel.extent {
            Extent::Area(area) => area.value,
            Extent::Share(share) => share.value * self.body.surface() * (1.0 + self.ease.value),
        };
        f64::from(panel.count) * one * size
    }

    /// Share of the body's surface that all pieces of a panel cover [–]; cloth given as an area is larger by
    /// the suit's ease.
    pub fn share(&self, panel: &Panel) -> f64 {
        let one = match &panel.extent {
            Extent::Area(area) => area.value / (self.body.surface() * (1.0 + self.ease.value)),
            Extent::Share(share) => share.value,
        };
        f64::from(panel.count) * one
    }
}

/// Length of stitch line on an area of quilting [m/m²].
///
/// Parallel lines a pitch apart run 1/pitch metres on a square metre; two sets of them twice that,
/// at whatever angle they cross.
pub fn stitch_length(quilting: &Quilting) -> f64 {
    let n_sets = match quilting.pattern {
        Pattern::Channels => 1.0,
        Pattern::Square | Pattern::Diamond => 2.0,
    };
    n_sets / quilting.pitch.value
}

/// Plies and quilting thread of a layup together [kg/m²].
pub fn sewn_density(layup: &Layup) -> f64 {
    layup.areal_density() + thread_density(layup)
}

/// Quilting thread on a layup [kg/m²].
pub fn thread_density(layup: &Layup) -> f64 {
    let Some(quilting) = &layup.quilting else { return 0.0 };
    quilting.thread.as_ref().map_or(0.0, |thread| thread.value * stitch_length(quilting))
}
