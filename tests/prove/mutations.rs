//! One character changed anywhere: never a panic, and never proven where an outside reader sees another cut.

use std::sync::OnceLock;

use borewright_planner::prove::{Proof, Reference, prove};
use proptest::prelude::*;

use crate::outside::{Row, read};
use crate::sample::{said, sample};

/// Whether two lists tell a machine the same to a thousandth.
fn same(a: &[Row], b: &[Row]) -> bool {
    let alike = |a: &Row, b: &Row| {
        // A feed that stands between two of its last digits may be told as either.
        let within = |letter: char| if letter == 'F' { 0.1 + 1e-9 } else { 0.001 + 1e-9 };
        let near = |(l, v): &(char, f64), (k, w): &(char, f64)| l == k && (v - w).abs() <= within(*l);
        // Higher above the deck, with a rapid or coming out of the bore, is no other cut; nor is a feed out of it that ends at
        // the deck, before the rapid up.
        let feeds = |row: &Row| row.g == [1];
        let clear = |w: &(char, f64), v: &(char, f64)| {
            w.0 == 'Z' && v.0 == 'Z' && w.1 >= 5.0 && (v.1 >= w.1 || (feeds(a) && v.1 >= 0.0))
        };
        a.g == b.g
            && a.m == b.m
            && a.words.len() == b.words.len()
            && a.words.iter().zip(&b.words).all(|(a, b)| near(a, b) || clear(a, b) || a.0 == 'N')
    };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| alike(a, b))
}

/// The sample's plan without the lines of its lists, read once.
fn bare() -> &'static Reference {
    static BARE: OnceLock<Reference> = OnceLock::new();
    BARE.get_or_init(|| sample().bare())
}

/// Proves words by what they do.
fn by_deed(words: &str) -> Proof {
    prove(words, None, "edited.nc", bare())
}

fn check(original: &str, mutated: &str) -> Result<(), TestCaseError> {
    let proof = by_deed(mutated);
    if proof.proven {
        let (before, after) = (read(original).unwrap(), read(mutated));
        let changed = original.lines().zip(mutated.lines()).find(|(a, b)| a != b);
        prop_assert!(after.is_some_and(|after| same(&before, &after)), "proven: {changed:?}");
    } else {
        prop_assert!(!said(&proof).is_empty());
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(800))]

    #[test]
    fn a_changed_character_is_caught_where_it_changes_the_cut(
        list in 0_usize..6, at in 0.0..1.0_f64, to in prop_oneof![
            6 => proptest::char::range('0', '9'),
            3 => proptest::char::range(' ', '~'),
            1 => any::<char>(),
        ], how in 0_u8..4,
    ) {
        let words = &sample().lists[list].1;
        let characters: Vec<char> = words.chars().collect();
        // The body twice as often as the head.
        let body = words.find("\nN10 ").unwrap();
        let span = characters.len() - body;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)]
        let pick = |n: usize| (at * n as f64) as usize;
        let index = if how == 0 { pick(characters.len()) } else { body + pick(span) };
        let mut mutated = characters.clone();
        match how {
            0 | 1 => mutated[index] = to,
            2 => { mutated.remove(index); }
            _ => mutated.insert(index, to),
        }
        check(words, &mutated.into_iter().collect::<String>())?;
    }

    #[test]
    fn a_changed_line_is_caught_where_it_changes_the_cut(
        list in 0_usize..6, from in any::<prop::sample::Index>(), to in any::<prop::sample::Index>(), how in 0_u8..3,
    ) {
        let words = &sample().lists[list].1;
        let mut lines: Vec<&str> = words.lines().collect();
        let (from, to) = (from.index(lines.len()), to.index(lines.len()));
        match how {
            0 => { lines.remove(from); }
            1 => lines.swap(from, to),
            _ => lines.insert(to, lines[from]),
        }
        check(words, &(lines.join("\n") + "\n"))?;
    }

    #[test]
    fn no_text_makes_the_prover_panic(text in "([NGMXYZIJFS(]-?[0-9.]{0,6} ?|[ -~]|\n){0,200}") {
        prop_assert!(!by_deed(&text).proven);
        let headed = format!("(LIST 10 - rough - BANK left)\n{text}");
        prop_assert!(!by_deed(&headed).proven);
    }
}

#[test]
fn a_rapid_made_a_feed_is_no_list_of_the_plan_wherever_it_stands() {
    for (name, words, _) in &sample().lists {
        let mut tried = 0;
        for (index, line) in words.lines().enumerate().filter(|(_, l)| l.contains(" G0 ")) {
            for (old, new) in [(" G0 ", " G01"), (" G0 ", " G1 ")] {
                let spoiled: String = words
                    .lines()
                    .enumerate()
                    .map(|(i, l)| if i == index { l.replace(old, new) } else { l.to_owned() } + "\n")
                    .collect();
                let proof = by_deed(&spoiled);
                assert!(!proof.proven, "{name}: {line}");
                let told = proof.flaws.iter().any(|f| f.line == Some(index + 1));
                assert!(told, "{name}: {line}\n{}", said(&proof));
            }
            tried += 1;
        }
        assert!(tried > 4, "{name}");
    }
}
