//! Turns given values into checked ones, gathering every fault on the way.

use crate::files::MaterialFile;
use crate::material::{self, Material};
use crate::read::fault::{Fault, Place, did_you_mean, plain};
use crate::read::given::{Angle, At, CuttingSpeed, Length, Number, Scalar, Units, Warmth};
use crate::read::measure::{self, Unreadable};
use crate::read::quantity::{self, Quantity};
use crate::read::source::Source;

/// Checks the values of one file.
///
/// A value that fails is reported and read as `None`; whoever asks goes on with what it has, so that
/// one run shows every fault.
pub(super) struct Checker<'s> {
    source: &'s Source,
    units: Units,
    pub(super) faults: Vec<Fault>,
}

impl<'s> Checker<'s> {
    pub(super) fn new(source: &'s Source, units: Units) -> Self {
        Self { source, units, faults: Vec::new() }
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
                let help = unreadable.help.map(str::to_owned);
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
    #[allow(clippy::option_option)] // left out and faulty are two things
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
                let found =
                    material::built_in(name).or_else(|| own.iter().find(|m| m.name == *name).cloned());
                if found.is_none() {
                    self.unknown_material(given.place, key, name, own);
                }
                found
            }
            MaterialFile::Own(map) => {
                let at = |field: &str| format!("{key}.{field}");
                let name = self.name(&at("name"), &map.name);
                let elastic = self.number(&at("elastic"), &map.elastic, quantity::ELASTIC);
                let poisson = self.number(&at("poisson"), &map.poisson, quantity::POISSON);
                let expansion = self.number(&at("expansion"), &map.expansion, quantity::EXPANSION);
                let strength = self.number(&at("yield"), &map.yield_strength, quantity::YIELD);
                Some(Material {
                    name: name?,
                    elastic_mpa: elastic?,
                    poisson: poisson?,
                    expansion_per_k: expansion? * 1e-6,
                    yield_mpa: strength?,
                })
            }
        }
    }

    pub(super) fn unknown_material(&mut self, place: Place, key: &str, name: &str, own: &[Material]) {
        let mut known: Vec<&str> = Vec::new();
        for name in material::names() {
            known.push(name);
        }
        for metal in own.iter().map(|m| m.name.as_str()) {
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

    /// Which of some names is meant.
    pub(super) fn one_of(
        &mut self,
        key: &str,
        given: &At<String>,
        names: &[String],
        what: &str,
    ) -> Option<usize> {
        let found = names.iter().position(|name| name == given.value.trim());
        if found.is_none() {
            let known = names.iter().map(|n| format!("`{}`", plain(n, 30))).collect::<Vec<_>>().join(", ");
            let help = did_you_mean(&given.value, names.iter().map(String::as_str));
            let shown = format!("`{}`", plain(&given.value, 60));
            self.fault_with_help(given.place, key, shown, &format!("{what}: {known}"), help);
        }
        found
    }
}
