//! The checker that turns given values into checked ones, gathering every fault on the way.

use crate::files::{MaterialFile, OwnMaterial};
use crate::material::{self, Material};
use crate::read::fault::{Fault, Place, did_you_mean, plain};
use crate::read::given::{Angle, At, CuttingSpeed, Length, Number, Scalar, Units, Warmth};
use crate::read::measure::{self, Unreadable};
use crate::read::quantity::{self, Quantity};
use crate::read::source::Source;

/// Checks the values of one file.
///
/// A value that fails is reported and read as `None`; checking goes on with the rest, so that one run shows every
/// fault.
pub(super) struct Checker<'s> {
    source: &'s Source,
    units: Units,
    /// Metals that stand before the built-in ones.
    metals: Vec<Material>,
    pub(super) faults: Vec<Fault>,
}

impl<'s> Checker<'s> {
    pub(super) fn new(source: &'s Source, units: Units) -> Self {
        Self { source, units, metals: Vec::new(), faults: Vec::new() }
    }

    /// This checker with the job's own metals, which come before the built-in ones.
    pub(super) fn with_metals(mut self, metals: &[Material]) -> Self {
        self.metals = metals.to_vec();
        self
    }

    pub(super) fn fault(&mut self, place: Place, key: &str, found: String, expected: &str) {
        self.faults.push(self.source.fault(Some(place), key, found, expected.to_owned()));
    }

    pub(super) fn fault_with_help(
        &mut self,
        place: Place,
        key: &str,
        found: String,
        expected: &str,
        help: Option<String>,
    ) {
        let mut fault = self.source.fault(Some(place), key, found, expected.to_owned());
        fault.help = help;
        self.faults.push(fault);
    }

    /// The place of a key, given that of its value.
    pub(super) fn key_place(&self, value: Place, key: &str) -> Place {
        self.source.key_place(value, key)
    }

    pub(super) fn format(&mut self, given: &At<String>, expected: &str) {
        if given.value != expected {
            let found = format!("`{}`", plain(&given.value, 60));
            self.fault(given.place, "format", found, &format!("`{expected}`"));
        }
    }

    fn quantity(
        &mut self,
        key: &str,
        (place, scalar): (Place, &Scalar),
        quantity: Quantity,
        read: Result<f64, Unreadable>,
    ) -> Option<f64> {
        match read {
            Ok(value) if quantity.holds(value) => Some(value),
            Ok(_) => {
                self.fault(place, key, scalar.to_string(), &quantity.expected());
                None
            }
            Err(unreadable) => {
                let help = unreadable.help;
                self.fault_with_help(place, key, scalar.to_string(), unreadable.expected, help);
                None
            }
        }
    }

    /// A length, mm.
    pub(super) fn length(&mut self, key: &str, given: &At<Length>, quantity: Quantity) -> Option<f64> {
        let read = measure::length_mm(&given.value.0, self.units);
        self.quantity(key, (given.place, &given.value.0), quantity, read)
    }

    /// A length that may be left out; `Some(None)` where it is.
    #[expect(clippy::option_option, reason = "left out and faulty are two things")]
    pub(super) fn length_if_given(
        &mut self,
        key: &str,
        given: Option<&At<Length>>,
        quantity: Quantity,
    ) -> Option<Option<f64>> {
        match given {
            None => Some(None),
            Some(given) => self.length(key, given, quantity).map(Some),
        }
    }

    /// An angle, degrees.
    pub(super) fn angle(&mut self, key: &str, given: &At<Angle>, quantity: Quantity) -> Option<f64> {
        let read = measure::angle_deg(&given.value.0);
        self.quantity(key, (given.place, &given.value.0), quantity, read)
    }

    /// A temperature, degrees Celsius.
    pub(super) fn celsius(&mut self, key: &str, given: &At<Warmth>) -> Option<f64> {
        let read = measure::celsius(&given.value.0);
        self.quantity(key, (given.place, &given.value.0), quantity::TEMPERATURE, read)
    }

    /// A temperature within bounds of its own, degrees Celsius.
    pub(super) fn warmth(&mut self, key: &str, given: &At<Warmth>, quantity: Quantity) -> Option<f64> {
        let read = measure::celsius(&given.value.0);
        self.quantity(key, (given.place, &given.value.0), quantity, read)
    }

    /// A length in mm whose faults are told elsewhere.
    pub(super) fn quietly_mm(&self, given: &At<Length>) -> Option<f64> {
        measure::length_mm(&given.value.0, self.units).ok()
    }

    /// A cutting speed, m/min.
    pub(super) fn speed(&mut self, key: &str, given: &At<CuttingSpeed>) -> Option<f64> {
        let read = measure::metres_per_minute(&given.value.0);
        self.quantity(key, (given.place, &given.value.0), quantity::CUTTING_SPEED, read)
    }

    /// A number in the unit its key names.
    pub(super) fn number(&mut self, key: &str, given: &At<Number>, quantity: Quantity) -> Option<f64> {
        let read = measure::plain_number(&given.value.0);
        self.quantity(key, (given.place, &given.value.0), quantity, read)
    }

    /// A range, least before most.
    pub(super) fn range<T>(
        &mut self,
        key: &str,
        given: &[At<T>; 2],
        mut read: impl FnMut(&mut Self, &str, &At<T>) -> Option<f64>,
    ) -> Option<[f64; 2]> {
        let least = read(self, &format!("{key}[0]"), &given[0]);
        let most = read(self, &format!("{key}[1]"), &given[1]);
        let (least, most) = (least?, most?);
        if least > most {
            self.fault(given[0].place, key, format!("{least} before {most}"), "the least before the most");
            return None;
        }
        Some([least, most])
    }

    /// A name: anything with a letter or digit in it. Whoever shows it makes it fit for the place.
    pub(super) fn name(&mut self, key: &str, given: &At<String>) -> Option<String> {
        let text = given.value.trim();
        if text.is_empty() || !text.chars().any(char::is_alphanumeric) {
            let found = if text.is_empty() { "nothing".to_owned() } else { format!("`{}`", plain(text, 60)) };
            self.fault(given.place, key, found, "a name");
            return None;
        }
        Some(text.to_owned())
    }

    /// A metal.
    pub(super) fn material(
        &mut self,
        key: &str,
        given: &At<MaterialFile>,
        own: &[Material],
    ) -> Option<Material> {
        match &given.value {
            MaterialFile::Named(name) => {
                let of = |metals: &[Material]| metals.iter().find(|m| m.name == *name).cloned();
                let found = of(&self.metals).or_else(|| material::built_in(name)).or_else(|| of(own));
                if found.is_none() {
                    self.unknown_material(given.place, key, name, own);
                }
                found
            }
            MaterialFile::Own(map) => self.own_material(key, map),
        }
    }

    /// A metal described in the file.
    pub(super) fn own_material(&mut self, key: &str, map: &OwnMaterial) -> Option<Material> {
        let at = |field: &str| format!("{key}.{field}");
        let name = self.name(&at("name"), &map.name);
        let elastic = self.number(&at("elastic"), &map.elastic, quantity::ELASTIC);
        let poisson = self.number(&at("poisson"), &map.poisson, quantity::POISSON);
        let expansion = self.number(&at("expansion"), &map.expansion, quantity::EXPANSION);
        let strength = self.number(&at("yield"), &map.yield_strength, quantity::YIELD);
        let kc =
            map.cutting_force.as_ref().map(|f| self.number(&at("cutting_force"), f, quantity::CUTTING_FORCE));
        let falls = map
            .cutting_exponent
            .as_ref()
            .map(|e| self.number(&at("cutting_exponent"), e, quantity::EXPONENT));
        let hot = self.by_temperature(&at("hot_yield"), &map.hot_yield, strength)?;
        let creep = self.by_temperature(&at("creep"), &map.creep, None)?;
        let mean_expansion = self.mean_expansion(&at("mean_expansion"), map, expansion)?;
        Some(Material {
            name: name?,
            elastic_mpa: elastic?,
            poisson: poisson?,
            expansion_per_k: expansion? * 1e-6,
            mean_expansion,
            yield_mpa: strength?,
            hot_yield: hot,
            creep,
            // A metal without figures of its own cuts like grey iron: the stronger of the two usual ones of a block.
            cutting: [kc.unwrap_or(Some(1160.0))?, falls.unwrap_or(Some(0.26))?],
            source: map.source.as_ref().map_or_else(|| "the file".to_owned(), |s| s.value.trim().to_owned()),
            unverified: if map.cutting_force.is_some() { Vec::new() } else { vec!["cutting force"] },
        })
    }

    /// A strength by temperature, degrees Celsius and MPa; `cold` is the one at 20 °C, where that is one of the kind.
    fn by_temperature(
        &mut self,
        key: &str,
        given: &[[At<Number>; 2]],
        cold: Option<f64>,
    ) -> Option<Vec<[f64; 2]>> {
        let mut hot: Vec<[f64; 2]> = Vec::new();
        for (i, [celsius, mpa]) in given.iter().enumerate() {
            let key = format!("{key}[{i}]");
            let at_c = self.number(&format!("{key}[0]"), celsius, quantity::HOT);
            let strength = self.number(&format!("{key}[1]"), mpa, quantity::YIELD);
            let (at_c, strength) = (at_c?, strength?);
            let before = hot.last().map_or(material::REFERENCE_C, |row| row[0]);
            if at_c <= before {
                let found = format!("{at_c} °C after {before} °C");
                self.fault(celsius.place, &key, found, "temperatures above 20 °C, each higher than the last");
                return None;
            }
            if let Some(colder) = hot.last().map(|row| row[1]).or(cold).filter(|colder| strength > *colder) {
                let found = format!("{strength} MPa at {at_c} °C after {colder} MPa");
                self.fault(
                    mpa.place,
                    &key,
                    found,
                    "no more than colder: no metal of an engine gets stronger as it gets hot",
                );
                return None;
            }
            hot.push([at_c, strength]);
        }
        Some(hot)
    }

    /// The mean expansion by temperature, 1/K, with the one to 100 °C; empty where that is all there is.
    fn mean_expansion(&mut self, key: &str, map: &OwnMaterial, to_100: Option<f64>) -> Option<Vec<[f64; 2]>> {
        let mut rows: Vec<[f64; 2]> = Vec::new();
        for (i, [celsius, mean]) in map.mean_expansion.iter().enumerate() {
            let key = format!("{key}[{i}]");
            let at_c = self.number(&format!("{key}[0]"), celsius, quantity::EXPANSION_AT);
            let mean = self.number(&format!("{key}[1]"), mean, quantity::EXPANSION);
            let (at_c, mean) = (at_c?, mean?);
            if let Some(before) = rows.last().map(|row| row[0]).filter(|before| at_c <= *before) {
                let found = format!("{at_c} °C after {before} °C");
                self.fault(celsius.place, &key, found, "temperatures, each higher than the last");
                return None;
            }
            rows.push([at_c, mean * 1e-6]);
        }
        if rows.is_empty() {
            return Some(rows);
        }
        if !rows.iter().any(|row| (row[0] - material::EXPANSION_TO_C).abs() < 1e-9) {
            let at = rows.iter().position(|row| row[0] > material::EXPANSION_TO_C).unwrap_or(rows.len());
            rows.insert(at, [material::EXPANSION_TO_C, to_100? * 1e-6]);
        }
        if !material::grows(&rows) {
            let place = map.mean_expansion.first().map_or(map.expansion.place, |row| row[0].place);
            let found = "means by which it would shrink as it warms".to_owned();
            self.fault(place, key, found, "means from 20 °C that change little from row to row");
            return None;
        }
        Some(rows)
    }

    pub(super) fn unknown_material(&mut self, place: Place, key: &str, name: &str, own: &[Material]) {
        let metals = self.metals.clone();
        let mut known: Vec<&str> = material::names().collect();
        for metal in own.iter().chain(&metals).map(|m| m.name.as_str()) {
            if !known.contains(&metal) {
                known.push(metal);
            }
        }
        let expected = format!(
            "one of {}",
            known.iter().map(|n| format!("`{}`", plain(n, 40))).collect::<Vec<_>>().join(", ")
        );
        let help = did_you_mean(name, known.iter().copied()).or_else(|| {
            Some("a metal of your own is a map with name, elastic, poisson, expansion, yield".into())
        });
        self.fault_with_help(place, key, format!("`{}`", plain(name, 60)), &expected, help);
    }

    /// The index of the name that is meant among some; `None` where it is none of them, which is told, but not of no names at
    /// all: that is told where they should stand.
    pub(super) fn one_of(
        &mut self,
        key: &str,
        given: &At<String>,
        names: &[String],
        what: &str,
    ) -> Option<usize> {
        let found = names.iter().position(|name| name == given.value.trim());
        if found.is_none() && !names.is_empty() {
            let known = names.iter().map(|n| format!("`{}`", plain(n, 30))).collect::<Vec<_>>().join(", ");
            let help = did_you_mean(&given.value, names.iter().map(String::as_str));
            let shown = format!("`{}`", plain(&given.value, 60));
            self.fault_with_help(given.place, key, shown, &format!("{what}: {known}"), help);
        }
        found
    }
}
