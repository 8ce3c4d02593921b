//! Two suits on one body, panel beside panel.

use crate::bench::outcome::Valued;
use crate::study::body::record::BodyStudy;
use crate::study::suit::panel_mass;

/// Two suits after the same fires.
#[derive(Debug, Clone, PartialEq)]
pub struct BodyBeside {
    /// The first, and the one held against it.
    pub suits: [BodyStudy; 2],
    /// The panels of both: those of the first in its order, then what the second has alone.
    pub panels: Vec<Paired>,
}

/// A panel by its name on the two suits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Paired {
    /// Its name.
    pub name: String,
    /// Which panel of each suit it is, counted from 0; none where a suit has none of that name.
    pub on: [Option<usize>; 2],
}

impl BodyBeside {
    /// Two suits after the same fires, panels of one name beside each other.
    pub fn of(one: BodyStudy, two: BodyStudy) -> BodyBeside {
        let at = |study: &BodyStudy, name: &str| {
            study.suit.panels.iter().position(|panel| panel.name == name)
        };
        let of_first = one.suit.panels.iter().enumerate().map(|(i, panel)| Paired {
            name: panel.name.clone(),
            on: [Some(i), at(&two, &panel.name)],
        });
        let alone = two.suit.panels.iter().enumerate();
        let alone = alone.filter(|(_, panel)| at(&one, &panel.name).is_none());
        let alone =
            alone.map(|(i, panel)| Paired { name: panel.name.clone(), on: [None, Some(i)] });
        let panels = of_first.chain(alone).collect();
        BodyBeside { suits: [one, two], panels }
    }

    /// Mass of a panel on one of the suits [kg]; none where it has none.
    pub fn panel_mass(&self, panel: &Paired, suit: usize) -> Option<f64> {
        let worn = &self.suits[suit].suit;
        let panel = &worn.panels[panel.on[suit]?];
        Some(panel_mass(panel, &panel.layup, worn.area(panel, 1.0)).total())
    }

    /// Mass of all panels of one of the suits [kg].
    pub fn mass(&self, suit: usize) -> f64 {
        self.panels.iter().filter_map(|panel| self.panel_mass(panel, suit)).sum()
    }

    /// Share of a panel that a fire burns to a degree on one of the suits [–]; none where it has none.
    pub fn share(&self, panel: &Paired, suit: usize, fire: usize, degree: usize) -> Option<Valued> {
        let burn = &self.suits[suit].fires[fire].panels[panel.on[suit]?];
        Some(Valued { value: burn.end[degree], error: burn.error[degree] })
    }

    /// By how much more of a panel burns on the second suit [–]; none where one suit has it alone.
    ///
    /// The error is both suits' own; none where they are the same there.
    pub fn more(&self, panel: &Paired, fire: usize, degree: usize) -> Option<Valued> {
        let [one, two] = [0, 1].map(|suit| self.share(panel, suit, fire, degree));
        let (one, two) = one.zip(two)?;
        let error = if self.is_alike(panel) { 0.0 } else { one.error + two.error };
        Some(Valued { value: two.value - one.value, error })
    }

    /// By how much more of the whole body burns under the panel on the second suit [–]; a suit that has it not
    /// burns nothing there, as what is bare is not counted.
    pub fn more_of_body(&self, panel: &Paired, fire: usize, degree: usize) -> Valued {
        let on = [0, 1].map(|suit| {
            let share = self.share(panel, suit, fire, degree);
            let of_body = panel.on[suit].map(|i| self.suits[suit].airs[i].share);
            share.zip(of_body).map_or((0.0, 0.0), |(s, of)| (s.value * of, s.error * of))
        });
        let error = if self.is_alike(panel) { 0.0 } else { on[0].1 + on[1].1 };
        Valued { value: on[1].0 - on[0].0, error }
    }

    /// By how much more of the whole body burns in the second suit [–].
    pub fn more_in_all(&self, fire: usize, degree: usize) -> Valued {
        let add = |sum: Valued, panel: &Paired| {
            let more = self.more_of_body(panel, fire, degree);
            Valued { value: sum.value + more.value, error: sum.error + more.error }
        };
        self.panels.iter().fold(Valued { value: 0.0, error: 0.0 }, add)
    }

    /// Whether both suits have the panel, with the same layup worn in the same way on the same air.
    fn is_alike(&self, panel: &Paired) -> bool {
        let [Some(i), Some(j)] = panel.on else { return false };
        let [one, two] = &self.suits;
        let (a, b) = (&one.suit.panels[i], &two.suit.panels[j]);
        a.layup == b.layup
            && a.pressure == b.pressure
            && a.embroidery == b.embroidery
            && one.airs[i] == two.airs[j]
    }
}
