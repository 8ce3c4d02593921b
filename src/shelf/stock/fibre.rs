//! Fibres from their records, and blends of them by name, "meta-aramid/FR viscose 50/50".

use crate::garment::blend::mix;
use crate::garment::charring::CharringPart;
use crate::garment::fibre::{Fibre, Limit};
use crate::garment::known::Known;
use crate::physics::law::Law;
use crate::physics::units::kelvin;
use crate::shelf::fault::{Fault, Unknown};
use crate::shelf::key::field::Keys;
use crate::shelf::key::kinds;
use crate::shelf::key::reader::Reader;
use crate::shelf::notation::record::Record;
use crate::shelf::stock::charring::read_charring;

/// Coldest and hottest temperature at which a property law must be above zero [K].
pub(crate) const LAW_LO: f64 = 200.0;
/// See [`LAW_LO`] [K].
pub(crate) const LAW_HI: f64 = 1500.0;
const KEYS: Keys<'_> = kinds::FIBRE;

/// A fibre from its record; none when anything is wrong with it.
pub(crate) fn read_fibre(record: &Record, faults: &mut Vec<Fault>) -> Option<Fibre> {
    let before = faults.len();
    let mut reader = Reader::new(record, KEYS.kind, faults);
    let name = reader.need_word("name");
    if let Some(name) = name.as_deref().filter(|name| name.contains('/')) {
        let what = format!("the name of fibre `{name}` has a slash");
        let mend = "the slash joins the fibres of a blend; take another sign";
        reader.fault(Fault::new(what, record.place_of("name"), "a name without a slash", mend));
    }
    let description = reader.word("description").unwrap_or_default();
    let density = reader.need_known(&kinds::DENSITY);
    let conductivity = reader.need_known(&kinds::CONDUCTIVITY);
    let specific_heat = specific_heat(&mut reader);
    let regain = reader.need_known(&kinds::REGAIN);
    let limit = reader.need_known(&kinds::LIMIT);
    let limit_event = reader.need_word("limit_event");
    let charring = read_charring(&mut reader);
    if faults.len() > before {
        return None;
    }
    let name = name?;
    let whole = |charring| CharringPart { fibre: name.clone(), share: 1.0, charring };
    let (temp_limit, limit_event) = (limit?, limit_event?);
    let own = Limit { temp: temp_limit.clone(), event: limit_event.clone() };
    Some(Fibre {
        limit_unfollowed: charring.is_none().then_some(own),
        charring: charring.map(whole).into_iter().collect(),
        name,
        description,
        density: density?,
        conductivity: conductivity?,
        specific_heat: specific_heat?,
        regain: regain?,
        temp_limit,
        limit_event,
    })
}

fn specific_heat(reader: &mut Reader<'_>) -> Option<Known<Law>> {
    let value = reader.need_known(&kinds::SPECIFIC_HEAT)?;
    let slope = reader.need_known(&kinds::SPECIFIC_HEAT_SLOPE)?;
    let temp_ref = reader.number(&kinds::SPECIFIC_HEAT_TEMP).unwrap_or(25.0);
    let hold = reader.number(&kinds::SPECIFIC_HEAT_TO).map_or(f64::INFINITY, kelvin);
    let law = Law::line_held(value.value, kelvin(temp_ref), slope.value, f64::NEG_INFINITY, hold);
    let key = kinds::SPECIFIC_HEAT_SLOPE.key;
    let fault = not_positive(&law, "specific heat", &reader.owner, reader.record, key);
    if let Some(fault) = fault {
        reader.fault(fault);
        return None;
    }
    Some(value.map(|_| law).with_rise(slope.provenance, slope.source))
}

/// The fault of a law that is not above zero wherever the model may need it, naming where it ends.
pub(crate) fn not_positive(
    law: &Law,
    noun: &str,
    owner: &str,
    record: &Record,
    key: &str,
) -> Option<Fault> {
    if law.min_over(LAW_LO, LAW_HI) > 0.0 {
        return None;
    }
    let zero = zero_nearest_room(law);
    let what = format!(
        "{noun} of {owner} falls to zero at {:.0} °C",
        crate::physics::units::celsius(zero)
    );
    let expected = "a law above zero from -73 to 1227 °C";
    let mend = "check the sign and the power of ten of the slope, or say up to which temperature it \
                holds";
    Some(Fault::new(what, record.place_of(key), expected, mend))
}

/// Temperature nearest 25 °C at which the law is zero or less [K].
fn zero_nearest_room(law: &Law) -> f64 {
    let room = kelvin(25.0);
    let outwards = (0..=13_000).map(|n| f64::from(n) * 0.1);
    outwards
        .flat_map(|d| [room - d, room + d])
        .filter(|temp| (LAW_LO..=LAW_HI).contains(temp))
        .find(|temp| law.at(*temp) <= 0.0)
        .unwrap_or(LAW_HI)
}

/// Why a fibre's name cannot be resolved.
pub(crate) enum BlendSlip {
    /// A part is not on the shelf.
    Unknown(Unknown),
    /// The shares are wrong: what, expected, mend.
    Shares(String, &'static str, String),
}

/// The fibre of that name, or the blend of the fibres named, by mass.
pub(crate) fn resolve(name: &str, fibres: &[Fibre]) -> Result<Fibre, BlendSlip> {
    let find = |part: &str| {
        fibres.iter().find(|fibre| fibre.name == part).ok_or_else(|| {
            let known = fibres.iter().map(|fibre| fibre.name.as_str());
            BlendSlip::Unknown(Unknown::new("fibre", part, known))
        })
    };
    if !name.contains('/') {
        return find(name).cloned();
    }
    let rule = "fibres and their shares of the mass, for example `meta-aramid/FR viscose 50/50`";
    let slip = |what: String, mend: &str| BlendSlip::Shares(what, rule, mend.to_owned());
    let Some((names, shares)) = name.rsplit_once(' ') else {
        return Err(slip(format!("blend `{name}` has no shares"), "write them after the names"));
    };
    let parts: Vec<&str> = names.split('/').map(str::trim).collect();
    let Some(shares) = percents(shares) else {
        return Err(slip(format!("blend `{name}` has no shares"), "write them after the names"));
    };
    if parts.len() != shares.len() {
        let what = format!("blend `{name}` has {} fibres and {} shares", parts.len(), shares.len());
        return Err(slip(what, "give one share for each fibre"));
    }
    let sum: f64 = shares.iter().sum();
    if (sum - 100.0).abs() > 1e-6 {
        let what = format!("the shares of blend `{name}` add up to {sum} %");
        return Err(slip(what, "make them add up to 100"));
    }
    let mut weighed = Vec::new();
    for (part, share) in parts.iter().zip(&shares) {
        weighed.push((find(part)?, share / 100.0));
    }
    Ok(mix(name, &weighed))
}

fn percents(text: &str) -> Option<Vec<f64>> {
    text.split('/').map(|share| share.parse().ok().filter(|s| *s > 0.0 && *s <= 100.0)).collect()
}

#[cfg(test)]
mod tests {
    use super::{BlendSlip, resolve};
    use crate::garment::charring::{Charring, CharringPart};
    use crate::garment::fibre::Fibre;
    use crate::garment::known::{Known, Provenance};
    use crate::physics::law::Law;
    use approx::assert_relative_eq;

    fn fibre(name: &str, density: f64, cp: f64, limit: f64) -> Fibre {
        let known = |value| Known::new(value, Provenance::Memory, name);
        Fibre {
            name: name.into(),
            description: String::new(),
            density: known(density),
            conductivity: known(0.2),
            specific_heat: Known::new(Law::line(cp, 300.0, 2.0), Provenance::Published, name),
            regain: known(0.1),
            temp_limit: known(limit),
            limit_event: "decomposes".into(),
            limit_unfollowed: None,
            charring: Vec::new(),
        }
    }

    /// A fibre that chars.
    fn charring(name: &str) -> Fibre {
        let known = |value| Known::new(value, Provenance::Memory, name);
        let charring = Charring {
            energy: known(228e3),
            temp_peak: known(563.0),
            residue: known(0.4),
            heat: known(0.0),
            water_share: known(0.33),
            thinning: Charring::thinning(),
        };
        let part = CharringPart { fibre: name.into(), share: 1.0, charring };
        Fibre { charring: vec![part], ..fibre(name, 1500.0, 1350.0, 520.0) }
    }

    #[test]
    fn a_blend_chars_by_the_mass_of_those_that_do() {
        let fibres = [charring("a"), fibre("b", 2000.0, 2000.0, 500.0), charring("c")];
        let Ok(blend) = resolve("a/b/c 30/50/20", &fibres) else { panic!("the blend is sound") };
        let parts: Vec<_> = blend.charring.iter().map(|p| (p.fibre.as_str(), p.share)).collect();
        assert_eq!(parts, [("a", 0.3), ("c", 0.2)]);
    }

    #[test]
    fn a_blend_is_weighed_by_mass() {
        let fibres = [fibre("a", 1000.0, 1000.0, 600.0), fibre("b", 2000.0, 2000.0, 500.0)];
        let Ok(blend) = resolve("a/b 50/50", &fibres) else { panic!("the blend is sound") };
        // 0.5 kg of each take 0.5/1000 + 0.5/2000 m³
        assert_relative_eq!(blend.density.value, 1.0 / 0.00075, max_relative = 1e-12);
        assert_relative_eq!(blend.specific_heat.value.at(400.0), 1700.0, max_relative = 1e-12);
        assert_eq!(blend.temp_limit.value, 500.0);
        assert_eq!(&*blend.specific_heat.source, "a + b");
        assert_eq!(blend.limit_event, "b decomposes");
    }

    #[test]
    fn wrong_shares_are_said() {
        let fibres = [fibre("a", 1000.0, 1000.0, 600.0), fibre("b", 2000.0, 2000.0, 500.0)];
        for (name, part) in [
            ("a/b 50/40", "add up to 90 %"),
            ("a/b 50/40/10", "2 fibres and 3 shares"),
            ("a/b", "no shares"),
            ("a/b half/half", "no shares"),
        ] {
            let Err(BlendSlip::Shares(what, ..)) = resolve(name, &fibres) else {
                panic!("{name} is not refused")
            };
            assert!(what.contains(part), "{what}");
        }
        assert!(matches!(resolve("a/c 50/50", &fibres), Err(BlendSlip::Unknown(_))));
    }
}
