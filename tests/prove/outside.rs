//! A reader from outside (crate gcode) sees the same words and places as the prover does.

use gcode::{Code, Value};

use crate::common::root;
use crate::sample::{of, said, sample};

/// A block: G and M numbers, and every other word.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    pub g: Vec<u32>,
    pub m: Vec<u32>,
    pub words: Vec<(char, f64)>,
}

/// The figure of a word; the reader's own value is single precision, its text is not.
fn figure(text: &str, span: &gcode::core::Span) -> Option<f64> {
    text.get(span.start + 1..span.start + span.length)?.trim().parse().ok()
}

/// The blocks of a list; `None` where the outside reader does not make sense of it.
pub fn read(text: &str) -> Option<Vec<Row>> {
    let program = gcode::parse(text).ok()?;
    let mut rows = Vec::new();
    for block in &program.blocks {
        let mut row = Row::default();
        let mut args = Vec::new();
        for code in &block.codes {
            match code {
                Code::General(general) => {
                    row.g.push(general.number.major());
                    args.extend(&general.args);
                }
                Code::Miscellaneous(misc) => {
                    row.m.push(misc.number.major());
                    args.extend(&misc.args);
                }
                _ => return None,
            }
        }
        for arg in args {
            if !matches!(arg.value, Value::Literal(_)) {
                return None;
            }
            row.words.push((arg.letter, figure(text, &arg.span)?));
        }
        for word in &block.word_addresses {
            row.words.push((word.letter, figure(text, &word.span)?));
        }
        if row != Row::default() {
            rows.push(row);
        }
    }
    Some(rows)
}

/// Where the tool goes: kind of move and X, Y, Z after each.
pub fn places(rows: &[Row]) -> Vec<(u32, [f64; 3])> {
    let mut at = [f64::NAN; 3];
    let mut places = Vec::new();
    for row in rows {
        let Some(way) = row.g.iter().find(|g| **g <= 3) else { continue };
        for (letter, value) in &row.words {
            if let Some(axis) = ['X', 'Y', 'Z'].iter().position(|l| l == letter) {
                at[axis] = *value;
            }
        }
        places.push((*way, at));
    }
    places
}

#[test]
fn both_readers_count_the_same_moves_and_the_same_bores() {
    for sample in [sample(), &vee(), &inline()] {
        assert!(!sample.lists.is_empty());
        for (name, words, _) in &sample.lists {
            let proof = sample.prove(words);
            assert!(proof.proven, "{name}: {}", said(&proof));
            let rows = read(words).unwrap();
            let places = places(&rows);
            assert_eq!(places.len(), proof.moves, "{name}");
            // A bore is a place, a step and a lowest Z; the first touch of one is no bore of its own.
            let mut bores: Vec<(usize, i64, i64, i64)> = Vec::new();
            let (mut step, mut stops) = (0, rows.iter());
            for (row, next) in rows.iter().zip(stops.by_ref().skip(1)) {
                // A tool is set at a stop that goes on across, not down.
                step += usize::from(row.m == [0] && next.g == [0] && next.words.iter().any(|w| w.0 == 'X'));
            }
            let steps = words.lines().filter(|l| l.starts_with("(step ")).count();
            assert!(step >= steps, "{name}: {step} stops, {steps} steps");
            let mut number = 0;
            let mut at = 0;
            for line in words.lines() {
                number += usize::from(line.starts_with("(step "));
                if line.contains(" G0 ") || line.contains(" G1 ") {
                    let (_, place) = places[at];
                    at += 1;
                    if place[2] < 0.0 {
                        let [x, y, z] = place.map(|v| (v * 1000.0).round().to_string().parse().unwrap());
                        match bores.iter_mut().find(|b| (b.0, b.1, b.2) == (number, x, y)) {
                            Some(bore) => bore.3 = bore.3.min(z),
                            None => bores.push((number, x, y, z)),
                        }
                    }
                }
            }
            assert_eq!(bores.len(), proof.features, "{name}");
        }
    }
}

fn vee() -> crate::sample::Sample {
    let job = borewright_planner::load(&root().join("blocks/invalid/base-vee")).unwrap();
    of(borewright_planner::plan_job(job, None).unwrap())
}

fn inline() -> crate::sample::Sample {
    let job = borewright_planner::load(&root().join("blocks/invalid/base")).unwrap();
    of(borewright_planner::plan_job(job, None).unwrap())
}
