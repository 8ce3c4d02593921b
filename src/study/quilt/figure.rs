//! What a quilting tells of a target's figure.

use crate::bench::figure::{DiscTimes, Found, t_valid};
use crate::bench::outcome::When;
use crate::garment::target::Figure;
use crate::study::quilt::outcome::{Quilted, SkinPlace};

impl Quilted {
    /// What is known of a figure, errors of mesh and area together.
    ///
    /// The disc is the one behind all paths, those under a patch among them; skin is the worst
    /// place's.
    pub fn figure(&self, figure: Figure) -> Found {
        if figure == Figure::SecondDegree {
            return self.second_degree();
        }
        let Some(disc) = &self.disc else { return Found::NotAsked };
        let both = self.patch.as_ref().and_then(|patched| patched.both.as_ref());
        let (figures, valid, areas) = match both {
            Some(both) => (&both.figures, both.t_valid, both.area_errors),
            None => (&disc.shared.figures, t_valid(&disc.shared.plies), disc.area_errors),
        };
        let areas = areas.map(|error| error.unwrap_or(0.0));
        DiscTimes::from(figures).widened(areas).figure(figure, &self.exposure).valid_until(valid)
    }

    /// The earliest second-degree burn at any place, under a patch and beside it.
    fn second_degree(&self) -> Found {
        let under = self.patch.as_ref().and_then(|patched| patched.under_skin.as_ref());
        let places = self
            .skin
            .iter()
            .chain(under)
            .flat_map(|skin| skin.places.iter().map(move |place| (skin, place)));
        let at = |place: &SkinPlace| match place.degrees[1] {
            When::At { t, .. } | When::Unsettled { t } => t,
            When::NotWithin { .. } => f64::INFINITY,
        };
        let worst = places.min_by(|(_, one), (_, other)| at(one).total_cmp(&at(other)));
        worst.map_or(Found::NotAsked, |(skin, place)| {
            Found::of_time(place.degrees[1], self.exposure.t_end).valid_until(t_valid(&skin.plies))
        })
    }
}
