//! Words in passing that tell of a block which may be lost, and what denies them.

/// How a word of damage is known in a word that was typed.
enum Grave {
    /// Anywhere in it: `microcracks`.
    Within(&'static str),
    /// Where it begins: `shifted`.
    Begins(&'static str),
    /// Two words in a row.
    Pair(&'static str, &'static str),
}

const GRAVE: [Grave; 23] = [
    Grave::Within("crack"),
    Grave::Within("leak"),
    Grave::Within("fractur"),
    Grave::Within("poros"),
    Grave::Begins("porous"),
    Grave::Begins("broke"),
    Grave::Begins("break"),
    Grave::Begins("burst"),
    Grave::Begins("chipped"),
    Grave::Begins("slipped"),
    Grave::Begins("moved"),
    Grave::Begins("shifted"),
    Grave::Begins("knocked"),
    Grave::Begins("dropped"),
    Grave::Begins("split"),
    Grave::Begins("weep"),
    Grave::Begins("seep"),
    Grave::Pair("water", "jacket"),
    Grave::Pair("hole", "through"),
    Grave::Pair("holed", "through"),
    Grave::Pair("runs", "out"),
    Grave::Pair("ran", "out"),
    Grave::Pair("running", "out"),
];

/// Words that deny a word of damage which follows them; `free of` does so too.
const DENIES: [&str; 4] = ["no", "not", "without", "never"];

/// Words behind which a denial denies nothing: "no doubt a crack", "not sure: cracked".
const UNSURE: [&str; 12] = [
    "doubt", "question", "sure", "certain", "only", "just", "good", "checked", "tested", "looked",
    "repaired", "without",
];

/// A denial stands at most this many words before what it denies.
const NEAR: usize = 2;

/// Whether a text tells of damage that it does not deny, each word of damage in its own clause.
#[must_use]
pub fn tells_of_damage(text: &str) -> bool {
    let text = text.to_lowercase().replace('’', "'");
    let ends = |c: char| matches!(c, ',' | ';' | ':' | '.' | '!' | '?' | '(' | ')' | '\n');
    text.split(ends).any(|clause| {
        let words: Vec<&str> =
            clause.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        (0..words.len()).any(|at| is_grave(&words, at) && !is_denied(&words, at))
    })
}

fn is_grave(words: &[&str], at: usize) -> bool {
    let Some(word) = words.get(at) else { return false };
    GRAVE.iter().any(|grave| match grave {
        Grave::Within(part) => word.contains(part),
        Grave::Begins(part) => word.starts_with(part),
        Grave::Pair(first, second) => word == first && words.get(at + 1) == Some(second),
    })
}

/// Whether exactly one denial stands just before a word, with nothing between that takes it back.
fn is_denied(words: &[&str], at: usize) -> bool {
    let from = at.saturating_sub(NEAR);
    let before = words.get(from..at).unwrap_or_default();
    // Of two words of damage each needs a denial of its own.
    let other = (from..at).any(|n| is_grave(words, n));
    let unsure = |n: usize| words.get(n + 1).is_some_and(|next| UNSURE.contains(next));
    let denials = (from..at).filter(|n| {
        let word = words.get(*n).copied().unwrap_or_default();
        let free = word == "of" && n.checked_sub(1).and_then(|p| words.get(p)) == Some(&"free");
        free || DENIES.contains(&word)
    });
    let sure = denials.clone().all(|n| !unsure(n));
    !other && !before.is_empty() && sure && denials.count() == 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_denial_counts_just_before_what_it_denies_and_for_that_alone() {
        for text in [
            "crack in the jacket wall",
            "do not cut: crack in jacket wall",
            "no coolant left, cracked at the top",
            "no doubt a crack",
            "no doubt cracked",
            "not sure cracked",
            "not good: it leaks",
            "casino crack",
            "not one but two cracks",
            "no crack or leak",
            "not without cracks",
            "fracture in the wall",
            "split at the deck",
            "hole through to the jacket",
            "block shifted in the clamps",
            "knocked the block with the crane",
            "the wall is porous",
            "water runs out of the bore",
            "it weeps at the ledge",
            "dropped",
        ] {
            assert!(tells_of_damage(text), "{text}");
        }
        for text in [
            "",
            "dye: no crack",
            "no visible crack",
            "not cracked, never leaked",
            "free of cracks",
            "free of any crack",
            "without a crack",
            "has not moved",
            "swarf removed",
            "as planned when its pocket was cut",
            "the runout is small",
        ] {
            assert!(!tells_of_damage(text), "{text}");
        }
    }
}
