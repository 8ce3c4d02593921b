//! Blends of fibres, by mass.

use crate::garment::charring::CharringPart;
use crate::garment::fibre::{Fibre, Limit};
use crate::garment::known::{Known, Provenance};
use crate::physics::law::{Law, Ramp};

/// The blend of fibres with their shares of the mass, at least two, under a name.
pub(crate) fn mix(name: &str, parts: &[(&Fibre, f64)]) -> Fibre {
    let specific_volume: f64 = parts.iter().map(|(f, w)| w / f.density.value).sum();
    let k = parts
        .iter()
        .map(|(f, w)| w / f.density.value / specific_volume * f.conductivity.value)
        .sum();
    let regain = parts.iter().map(|(f, w)| w * f.regain.value).sum();
    let limit = |fibre: &Fibre, limit: &Limit| Limit {
        temp: limit.temp.clone(),
        event: format!("{} {}", fibre.name, limit.event),
    };
    let coolest = |limits: Vec<Limit>| {
        limits.into_iter().min_by(|a, b| a.temp.value.total_cmp(&b.temp.value))
    };
    let own =
        |fibre: &Fibre| Limit { temp: fibre.temp_limit.clone(), event: fibre.limit_event.clone() };
    let all = parts.iter().map(|(fibre, _)| limit(fibre, &own(fibre)));
    let all = coolest(all.collect()).expect("a blend has at least two parts");
    let unfollowed = parts
        .iter()
        .filter_map(|(fibre, _)| fibre.limit_unfollowed.as_ref().map(|own| limit(fibre, own)));
    Fibre {
        name: name.to_owned(),
        description: "blend by mass".to_owned(),
        density: mixed(1.0 / specific_volume, parts, |f| (f.density.provenance, &f.density.source)),
        conductivity: mixed(k, parts, |f| (f.conductivity.provenance, &f.conductivity.source)),
        specific_heat: mixed_law(parts),
        regain: mixed(regain, parts, |f| (f.regain.provenance, &f.regain.source)),
        temp_limit: all.temp,
        limit_event: all.event,
        limit_unfollowed: coolest(unfollowed.collect()),
        charring: parts.iter().flat_map(|(fibre, w)| charring_of(fibre, *w)).collect(),
    }
}

/// What chars of a fibre that has the share `w` of a blend's mass.
fn charring_of(fibre: &Fibre, w: f64) -> impl Iterator<Item = CharringPart> + use<'_> {
    fibre.charring.iter().map(move |part| CharringPart { share: w * part.share, ..part.clone() })
}

/// A value of the blend with the weakest provenance among its parts.
fn mixed<'p, T>(
    value: T,
    parts: &[(&'p Fibre, f64)],
    of: impl Fn(&'p Fibre) -> (Provenance, &'p str),
) -> Known<T> {
    let provenance = parts.iter().map(|(fibre, _)| of(fibre).0).max();
    let source = sources(parts.iter().map(|(fibre, _)| of(fibre).1));
    Known::new(value, provenance.unwrap_or(Provenance::Estimated), source)
}

/// Specific heat of the blend; value and rise each with the weakest provenance among the parts.
fn mixed_law(parts: &[(&Fibre, f64)]) -> Known<Law> {
    let value =
        mixed(mix_law(parts), parts, |f| (f.specific_heat.provenance, &f.specific_heat.source));
    let rise = mixed((), parts, |f| {
        let of = &f.specific_heat;
        (of.rise_provenance(), of.rise.as_ref().map_or(&*of.source, |rise| &rise.source))
    });
    value.with_rise(rise.provenance, rise.source)
}

fn mix_law(parts: &[(&Fibre, f64)]) -> Law {
    let scaled: Vec<Law> =
        parts.iter().map(|(fibre, w)| fibre.specific_heat.value.scaled(*w)).collect();
    let mut ramps: Vec<Ramp> = Vec::new();
    for ramp in scaled.iter().flat_map(|law| &law.ramps) {
        match ramps.iter_mut().find(|known| known.lo == ramp.lo && known.hi == ramp.hi) {
            Some(known) => known.slope += ramp.slope,
            None => ramps.push(*ramp),
        }
    }
    ramps.sort_by(|a, b| a.lo.total_cmp(&b.lo));
    Law { base: scaled.iter().map(|law| law.base).sum(), ramps }
}

/// Sources joined by " + ", each once.
fn sources<'a>(all: impl Iterator<Item = &'a str>) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for source in all.flat_map(|joined| joined.split(" + ")) {
        if !source.is_empty() && !seen.contains(&source) {
            seen.push(source);
        }
    }
    seen.join(" + ")
}
