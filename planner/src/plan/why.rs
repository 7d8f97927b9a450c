//! Why a bore stands where it is planned, and at its verdict: whole in `plan.json`, in its parts where some of them were
//! told before.

use std::fmt;

use serde::{Serialize, Serializer};

use super::sentence::Sentence;
use crate::say;

/// What holds a bore where it is planned, in the parts that are told apart.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Why {
    /// How it stands there.
    pub stands: Stands,
    /// What speaks against it, in the order that it was found in.
    pub because: Vec<Because>,
}

/// How a bore stands where it is planned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stands {
    /// "true to the journal axis", or how far off; nothing of a bore that fits nowhere.
    pub off: Sentence,
    /// Which way off; `None` where it is not, or where its place is withheld.
    pub way: Option<Sentence>,
    /// What keeps it there; `None` where limits that are not at go do.
    pub kept: Option<Kept>,
}

/// What keeps a bore at go where it stands.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Kept {
    /// How: "limited by ", "closest metal: ", or all that there is to say.
    pub how: Sentence,
    /// The limits that do.
    pub limits: Vec<Named>,
    /// What they leave.
    pub leaves: Sentence,
}

/// A limit by its name, with where it is judged.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Named {
    /// The limit.
    pub limit: Sentence,
    /// Which feature, how deep, at which clock.
    pub at: Sentence,
}

/// One thing that speaks against a bore.
#[derive(Debug, Clone, PartialEq)]
pub struct Because {
    /// Of what it is.
    pub of: Of,
    /// In words.
    pub text: Sentence,
    /// What the finding of it says, where that is more.
    pub finding: Option<Sentence>,
}

/// Of what it is that speaks against a bore.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A limit at its place: the bore's own finding tells it.
    Limit,
    /// What was not read of it.
    Unread,
    /// The sleeve.
    Sleeve,
    /// A finding that holds it.
    Finding,
    /// Readings that may be wrong: their likely cause.
    Doubt,
}

impl Of {
    /// The words before it; none where it speaks for itself.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Limit | Self::Unread | Self::Finding => "",
            Self::Sleeve => "sleeve: ",
            Self::Doubt => "in doubt: ",
        }
    }
}

impl Why {
    /// All of it, as one sentence.
    #[must_use]
    pub fn whole(&self) -> Sentence {
        self.told(|_| true)
    }

    /// What the bore's own finding says: how it stands, and its limits.
    #[must_use]
    pub fn own(&self) -> Sentence {
        self.told(|because| because.of == Of::Limit)
    }

    fn told(&self, tells: impl Fn(&Because) -> bool) -> Sentence {
        let stands = self.stands.whole();
        let because = self.because.iter().filter(|b| tells(b)).map(Because::whole);
        Sentence::join([stands].into_iter().filter(|s| !s.is_empty()).chain(because), "; ")
    }

    /// Adds what speaks against the bore.
    pub fn add(&mut self, of: Of, text: Sentence) {
        self.because.push(Because { of, text, finding: None });
    }

    /// Takes out where the bore would stand: how far off stays in it, which way does not.
    pub fn withhold(&mut self) {
        self.stands.way = None;
    }

    /// The same with its place withheld.
    #[must_use]
    pub fn withheld(mut self) -> Self {
        self.withhold();
        self
    }
}

impl Stands {
    /// All of it, as one sentence.
    #[must_use]
    pub fn whole(&self) -> Sentence {
        let mut whole = self.off.clone();
        if let Some(way) = &self.way {
            whole.push(say!(" ({})", way));
        }
        if let Some(kept) = &self.kept {
            whole.push(say!("; {}", kept.told(Named::whole)));
        }
        whole
    }

    /// The same without where: neither which way, nor at which place of which limit.
    #[must_use]
    pub fn without_place(&self) -> Sentence {
        let mut told = self.off.clone();
        if let Some(kept) = &self.kept {
            told.push(say!("; {}", kept.told(|named| named.limit.clone())));
        }
        told
    }
}

impl Kept {
    fn told(&self, named: impl Fn(&Named) -> Sentence) -> Sentence {
        let mut told = self.how.clone();
        told.push(Sentence::join(self.limits.iter().map(named), " and "));
        told.push(self.leaves.clone());
        told
    }
}

/// All that there is to say.
impl From<&str> for Kept {
    fn from(how: &str) -> Self {
        Self { how: how.into(), ..Self::default() }
    }
}

impl Named {
    /// "clean up (body, 30.0 mm deep, clock 90)".
    #[must_use]
    pub fn whole(&self) -> Sentence {
        say!("{} ({})", self.limit, self.at)
    }
}

impl Because {
    /// With the words before it.
    #[must_use]
    pub fn whole(&self) -> Sentence {
        let mut whole = Sentence::from(self.of.label());
        whole.push(self.text.clone());
        whole
    }

    /// What its finding says.
    #[must_use]
    pub fn finding(&self) -> &Sentence {
        self.finding.as_ref().unwrap_or(&self.text)
    }
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.whole().fmt(f)
    }
}

/// One of which no part is told apart.
impl<S: Into<Sentence>> From<S> for Why {
    fn from(stands: S) -> Self {
        Self { stands: Stands { off: stands.into(), ..Stands::default() }, ..Self::default() }
    }
}

/// Written as its text, lengths in mm.
impl Serialize for Why {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.whole().serialize(serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::sentence::mm;

    /// 0.02 off, kept by a wall, and held by what was typed.
    fn held() -> Why {
        let wall = Named { limit: "parent wall".into(), at: say!("body, {} deep", mm(30.0, 1)) };
        let kept = Kept { how: "limited by ".into(), limits: vec![wall], leaves: Sentence::new() };
        let stands = Stands {
            off: say!("{} off true", mm(0.02, 3)),
            way: Some("to the rear".into()),
            kept: Some(kept),
        };
        let mut why = Why { stands, because: Vec::new() };
        why.add(Of::Unread, "no wall was read".into());
        why.add(Of::Sleeve, "its wall is thin".into());
        let finding = Some("far off; likely read in inches; read it again".into());
        why.because.push(Because { of: Of::Doubt, text: "read in inches".into(), finding });
        why
    }

    #[test]
    fn it_is_told_whole_and_in_its_parts() {
        let why = held();
        let whole = "0.020 mm off true (to the rear); limited by parent wall (body, 30.0 mm deep); no wall was read; \
                     sleeve: its wall is thin; in doubt: read in inches";
        assert_eq!(why.to_string(), whole);
        assert_eq!(serde_json::to_value(&why).unwrap(), whole);
        let own = "0.020 mm off true (to the rear); limited by parent wall (body, 30.0 mm deep)";
        assert_eq!(why.own(), own);
        assert_eq!(why.stands.without_place(), "0.020 mm off true; limited by parent wall");
        let findings: Vec<String> = why.because.iter().map(|b| b.finding().to_string()).collect();
        assert_eq!(
            findings,
            ["no wall was read", "its wall is thin", "far off; likely read in inches; read it again"]
        );
    }

    #[test]
    fn a_bore_that_fits_nowhere_begins_with_its_limit() {
        let mut why = Why::default();
        why.add(Of::Limit, "clean up cannot be met anywhere".into());
        why.add(Of::Sleeve, "its wall is thin".into());
        assert_eq!(why.to_string(), "clean up cannot be met anywhere; sleeve: its wall is thin");
        assert_eq!(why.own(), "clean up cannot be met anywhere");
    }

    #[test]
    fn a_withheld_place_is_in_none_of_its_words() {
        let why = held().withheld();
        assert!(!why.to_string().contains("rear"), "{why}");
        assert!(why.to_string().starts_with("0.020 mm off true; limited by parent wall (body"), "{why}");
    }
}
