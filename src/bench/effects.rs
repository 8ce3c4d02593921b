//! Effects that can be left out, one at a time, to see what each is worth.

/// Something that the model reckons with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Effect {
    /// Water in the plies: its heat capacity and its heat of evaporation. Without: the dry fibre alone.
    Moisture,
    /// Water that evaporates, moves as vapour and condenses. Without: it stays where it is and
    /// leaves for good between 75 and 125 °C, and no fibre chars: charring is reckoned with moving
    /// water alone.
    MovingVapour,
    /// Water beyond the conditioned regain that conducts heat. Without: it only takes heat up.
    WetConduction,
    /// Radiation absorbed in the depth of a ply. Without: all of it at the outer face.
    InDepth,
    /// Conductivity and specific heat that rise with temperature. Without: their values at 25 °C.
    Rise,
    /// Joints between faces that touch, and voids of faces that a gap parts. Without: faces that touch
    /// share one temperature, and a gap is its own thickness.
    Joints,
    /// Air in gaps that moves. Without: it stands still.
    Convection,
    /// Radiation across gaps. Without: air alone carries heat across.
    GapRadiation,
    /// Radiation that the outer face sends out. Without: none.
    Emission,
    /// Blood that carries heat off. Without: none.
    Perfusion,
    /// Heat taken up by decomposition. Without: none.
    Decomposition,
    /// Fibre that turns to char, gas and water. Without: it stays what it is.
    Charring,
    /// Gas of charring that thins the film of the outer face. Without: the film does not feel it.
    Blowing,
}

impl Effect {
    /// All of them; a run reckons with each unless told otherwise.
    pub const ALL: [Effect; 13] = [
        Effect::Moisture,
        Effect::MovingVapour,
        Effect::WetConduction,
        Effect::InDepth,
        Effect::Rise,
        Effect::Joints,
        Effect::Convection,
        Effect::GapRadiation,
        Effect::Emission,
        Effect::Perfusion,
        Effect::Decomposition,
        Effect::Charring,
        Effect::Blowing,
    ];

    /// The word used on the command line and in files.
    pub fn word(self) -> &'static str {
        match self {
            Effect::Moisture => "moisture",
            Effect::MovingVapour => "moving-vapour",
            Effect::WetConduction => "wet-conduction",
            Effect::InDepth => "in-depth",
            Effect::Rise => "rise",
            Effect::Joints => "joints",
            Effect::Convection => "convection",
            Effect::GapRadiation => "gap-radiation",
            Effect::Emission => "emission",
            Effect::Perfusion => "perfusion",
            Effect::Decomposition => "decomposition",
            Effect::Charring => "charring",
            Effect::Blowing => "blowing",
        }
    }

    /// What it is, for the reader.
    pub fn meaning(self) -> &'static str {
        match self {
            Effect::Moisture => "water in the plies",
            Effect::MovingVapour => "vapour that moves",
            Effect::WetConduction => "water that conducts",
            Effect::InDepth => "radiation absorbed in depth",
            Effect::Rise => "properties rising with heat",
            Effect::Joints => "joints between faces",
            Effect::Convection => "moving air in gaps",
            Effect::GapRadiation => "radiation across gaps",
            Effect::Emission => "emission of the outer face",
            Effect::Perfusion => "blood perfusion of the skin",
            Effect::Decomposition => "heat of decomposition",
            Effect::Charring => "charring of fibres",
            Effect::Blowing => "blowing of their gas",
        }
    }
}

/// The effects that are left out; by default none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Without(u16);

impl Without {
    /// Leaves out each of `effects` and no other.
    pub fn these(effects: &[Effect]) -> Without {
        Without(effects.iter().fold(0, |set, effect| set | 1 << (*effect as u16)))
    }

    /// Whether the model reckons with `effect`.
    pub fn keeps(self, effect: Effect) -> bool {
        self.0 & (1 << (effect as u16)) == 0
    }
}

#[cfg(test)]
mod tests {
    use super::{Effect, Without};

    #[test]
    fn a_set_holds_what_was_put_in() {
        for out in Effect::ALL {
            let without = Without::these(&[out, out]);
            for effect in Effect::ALL {
                assert_eq!(without.keeps(effect), effect != out, "{effect:?} without {out:?}");
            }
        }
        assert!(Effect::ALL.iter().all(|effect| Without::default().keeps(*effect)));
    }
}
