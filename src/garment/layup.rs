//! A layup: plies and air gaps in order, outermost first.

use crate::garment::fabric::Fabric;
use crate::garment::known::Known;

/// One fabric layer of a layup.
#[derive(Debug, Clone, PartialEq)]
pub struct Ply {
    /// The fabric as used here: the shelf's values with the layup's own put in their place.
    pub fabric: Fabric,
    /// What lies between its inner face and the next ply or backing; where a gap does, [`PlyJoint::Faces`]
    /// adds the voids to it and the others add nothing.
    pub joint: PlyJoint,
}

/// What lies between two faces that touch.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum PlyJoint {
    /// The thin air that two rough faces keep between them, as deep as their voids together.
    #[default]
    Faces,
    /// A conductance [W/(m²·K)].
    Conductance(Known),
    /// Nothing: the faces share one temperature.
    Shared,
}

impl Ply {
    /// Mean depth of the air between its inner face and the face of `next`, or a smooth backing,
    /// where their crowns touch [m].
    ///
    /// A gap parts the crowns and comes on top: a thickness is gauged over the crowns, and so is a
    /// spacer, so that each face's void belongs to neither. Common practice, no source.
    pub fn face_air(&self, next: Option<&Ply>) -> f64 {
        self.fabric.face_void.value + next.map_or(0.0, |next| next.fabric.face_void.value)
    }

    /// What the voids of both faces add to a gap that parts them [m]; nothing where the ply says
    /// that its faces share one temperature or have a conductance of their own.
    pub fn gap_voids(&self, next: Option<&Ply>) -> f64 {
        match self.joint {
            PlyJoint::Faces => self.face_air(next),
            PlyJoint::Shared | PlyJoint::Conductance(_) => 0.0,
        }
    }
}

/// Still or moving air between two plies.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    /// Thickness between the crowns of both faces, whose voids are not in it [m], above 0.
    pub thickness: Known,
}

/// One entry of the stack.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// A fabric layer.
    Ply(Box<Ply>),
    /// An air gap.
    Gap(Gap),
}

/// The ordered stack, outermost first; starts with a ply and never has two gaps in a row.
///
/// A gap in the last place stands between the garment and what is behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Layup {
    /// Name of the layup.
    pub name: String,
    /// What it is, in words; may be empty.
    pub note: String,
    /// Plies and gaps, outermost first.
    pub stack: Vec<Entry>,
    /// Pressure that the plies stand under [Pa]; none: each at the pressure its thickness holds at.
    pub pressure: Option<Known>,
    /// How the plies are stitched together; none for loose plies.
    pub quilting: Option<Quilting>,
}

/// Course of the stitch lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Pattern {
    /// Parallel lines.
    Channels,
    /// Two sets of lines at right angles.
    Square,
    /// Two sets of lines aslant.
    Diamond,
}

impl Pattern {
    /// All of them.
    pub const ALL: [Pattern; 3] = [Pattern::Channels, Pattern::Square, Pattern::Diamond];

    /// The word used in files and output.
    pub fn word(self) -> &'static str {
        match self {
            Pattern::Channels => "channels",
            Pattern::Square => "square",
            Pattern::Diamond => "diamond",
        }
    }
}

/// How plies are stitched together.
#[derive(Debug, Clone, PartialEq)]
pub struct Quilting {
    /// Course of the stitch lines.
    pub pattern: Pattern,
    /// Distance between neighbouring stitch lines [m].
    pub pitch: Known,
    /// Width over which a stitch line presses the plies [m], less than the pitch.
    pub stitch_width: Known,
    /// Air that the plies take in between them at the middle of a cell [m].
    pub loft: Known,
    /// Thickness of the pressed plies at a stitch line [m].
    pub pressed: Known,
    /// Thread per length of stitch line [kg/m].
    pub thread: Option<Known>,
}

impl Layup {
    /// The plies, outermost first.
    pub fn plies(&self) -> impl Iterator<Item = &Ply> {
        self.stack.iter().filter_map(|entry| match entry {
            Entry::Ply(ply) => Some(ply.as_ref()),
            Entry::Gap(_) => None,
        })
    }

    /// The same, to be changed.
    pub fn plies_mut(&mut self) -> impl Iterator<Item = &mut Ply> {
        self.stack.iter_mut().filter_map(|entry| match entry {
            Entry::Ply(ply) => Some(ply.as_mut()),
            Entry::Gap(_) => None,
        })
    }

    /// The gaps, outermost first.
    pub fn gaps(&self) -> impl Iterator<Item = &Gap> {
        self.stack.iter().filter_map(|entry| match entry {
            Entry::Gap(gap) => Some(gap),
            Entry::Ply(_) => None,
        })
    }

    /// Whether it stands under a pressure that a gap keeps from its plies.
    pub fn pressed_across_gap(&self) -> bool {
        self.pressure.is_some() && self.gaps().next().is_some()
    }

    /// Areal density of all plies, moisture included [kg/m²].
    pub fn areal_density(&self) -> f64 {
        self.plies().map(|ply| ply.fabric.areal_density.value).sum()
    }

    /// Thickness of all plies without the gaps [m].
    pub fn plies_thickness(&self) -> f64 {
        self.plies().map(|ply| ply.fabric.thickness.value).sum()
    }

    /// Thickness of plies and gaps together [m].
    pub fn thickness(&self) -> f64 {
        self.plies_thickness() + self.gaps().map(|gap| gap.thickness.value).sum::<f64>()
    }
}
