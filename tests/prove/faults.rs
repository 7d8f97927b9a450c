//! Lists spoiled on purpose: each kind is caught, on the line where it is.

use crate::sample::{said, sample};

/// The line that a flaw must name.
enum On {
    /// The first that differs from the list as written.
    Edit,
    /// The block of this bore, as [`at`] finds it, in the list as spoiled.
    At(usize, usize, &'static str),
    /// The first that holds this text.
    Text(&'static str),
    /// None: the list as a whole.
    Whole,
}
use On::{At, Edit, Text, Whole};

type Spoil = fn(&str) -> String;

/// The line, from 0, of the first block that holds `has` in the n-th bore of the n-th tool stop; both count from 1,
/// bore 0 is what stands between the stop and its first bore. The way back over a bore after a stop is the same bore.
fn at(text: &str, stop: usize, bore: usize, has: &str) -> usize {
    let (mut stops, mut bores) = (0, 0);
    let mut notes: Vec<&str> = Vec::new();
    for (index, line) in text.lines().enumerate() {
        if !line.starts_with('N') {
            notes.push(line);
            continue;
        }
        let words = format!("{line} ");
        // A longer comment goes on in the next line; its head counts.
        if notes.first().is_some_and(|note| note.starts_with("(step ")) {
            (stops, bores) = (stops + 1, 0);
        } else if words.contains(" G0 X") && !notes.iter().any(|note| note.starts_with("(back over")) {
            bores += 1;
        }
        notes.clear();
        if (stops, bores) == (stop, bore) && words.contains(has) {
            return index;
        }
    }
    panic!("no block {has:?} in bore {bore} of stop {stop}:\n{text}");
}

/// Changes the line that [`at`] finds.
fn change(text: &str, (stop, bore, has): (usize, usize, &str), new: impl Fn(&str) -> String) -> String {
    let index = at(text, stop, bore, has);
    let lines = text.lines().enumerate();
    lines.map(|(i, line)| if i == index { new(line) } else { line.to_owned() } + "\n").collect()
}

/// Replaces words of that line.
fn put(text: &str, place: (usize, usize, &str), old: &str, new: &str) -> String {
    change(text, place, |line| {
        assert!(line.contains(old), "{line} holds no {old:?}");
        line.replacen(old, new, 1)
    })
}

/// The figure of a word on a line.
fn figure(line: &str, letter: char) -> Option<f64> {
    line.split(' ').find_map(|word| word.strip_prefix(letter)?.parse().ok())
}

/// Changes the figure of a word on that line.
fn turn(text: &str, place: (usize, usize, &str), letter: char, new: fn(f64) -> f64) -> String {
    change(text, place, |line| {
        let word =
            |word: &str| match word.strip_prefix(letter).and_then(|f| Some((f, f.parse::<f64>().ok()?))) {
                Some((as_written, figure)) => {
                    let decimals = as_written.split_once('.').map_or(0, |(_, part)| part.len());
                    format!("{letter}{:.decimals$}", new(figure))
                }
                None => word.to_owned(),
            };
        line.split(' ').map(word).collect::<Vec<_>>().join(" ")
    })
}

/// Leaves that line out; its comment stays and comes before the next.
fn drop(text: &str, place: (usize, usize, &str)) -> String {
    let index = at(text, place.0, place.1, place.2);
    text.lines().enumerate().filter(|(i, _)| *i != index).map(|(_, l)| format!("{l}\n")).collect()
}

/// Puts rows before that line.
fn before(text: &str, place: (usize, usize, &str), rows: &[&str]) -> String {
    let rows: Vec<String> = rows.iter().map(|row| format!("N1 {row}")).collect();
    change(text, place, |line| format!("{}\n{line}", rows.join("\n")))
}

/// The first line of a bore with its comments, from 0.
fn bore(text: &str, stop: usize, number: usize) -> usize {
    let across = at(text, stop, number, " G0 X");
    let lines: Vec<&str> = text.lines().collect();
    (0..across).rev().take_while(|i| lines[*i].starts_with('(')).last().unwrap_or(across)
}

/// The first line of a step: the rapid up before its tool stop where there is one, with its comments.
fn step(text: &str, number: usize) -> usize {
    let lines: Vec<&str> = text.lines().collect();
    let mut stops = lines.iter().enumerate().filter(|(_, l)| l.starts_with("(step ")).map(|(i, _)| i);
    let stop = stops.nth(number - 1).unwrap();
    let before = (0..stop).rev().find(|i| lines[*i].starts_with('N')).unwrap();
    // After a stop to measure the tool is up already.
    let up = if lines[before].contains(" G0 Z") { before } else { stop };
    (0..up).rev().take_while(|i| lines[*i].starts_with('(')).last().unwrap_or(up)
}

/// Lines in another order: ranges of them, one after the other.
fn lines(text: &str, ranges: &[std::ops::Range<usize>]) -> String {
    let lines: Vec<&str> = text.lines().collect();
    ranges.iter().flat_map(|r| &lines[r.start..r.end.min(lines.len())]).map(|l| format!("{l}\n")).collect()
}

/// Replaces the first place that holds this.
fn one(text: &str, old: &str, new: &str) -> String {
    assert!(text.contains(old), "the list holds no {old:?}");
    text.replacen(old, new, 1)
}

/// Leaves out the line that starts with this.
fn without(text: &str, start: &str) -> String {
    assert!(text.lines().any(|l| l.starts_with(start)), "the list has no {start:?}");
    text.lines().filter(|l| !l.starts_with(start)).map(|l| format!("{l}\n")).collect()
}

/// Changes every word of a letter.
fn every(text: &str, letter: char, change: fn(f64) -> f64) -> String {
    let word = |word: &str| match word.strip_prefix(letter).and_then(|f| f.parse::<f64>().ok()) {
        Some(figure) => format!("{letter}{:.3}", change(figure)),
        None => word.to_owned(),
    };
    let line = |line: &str| match line.starts_with('N') {
        true => line.split(' ').map(word).collect::<Vec<_>>().join(" "),
        false => line.to_owned(),
    };
    text.lines().map(|l| line(l) + "\n").collect()
}

/// Y and X of a line exchanged.
fn swapped(line: &str) -> String {
    let [x, y] = ['X', 'Y'].map(|letter| figure(line, letter).unwrap());
    format!("{} G0 X{y:.3} Y{x:.3}", line.split(' ').next().unwrap())
}

/// Numbers the blocks anew and puts count and sums right, as a careful hand would: what is then still caught is
/// caught by what the list does.
fn mended(text: &str) -> String {
    let figures = |text: &str, letter: char| -> i64 {
        let words = text.lines().filter(|l| l.starts_with('N')).flat_map(|l| l.split(' '));
        let digits = |w: &str| w.strip_prefix(letter).and_then(|f| f.replace('.', "").parse::<i64>().ok());
        words.filter_map(digits).sum()
    };
    let sum = |letter| {
        let sum: i64 = figures(text, letter);
        let sign = if sum < 0 { "-" } else { "" };
        format!("{sign}{}.{:03}", sum.abs() / 1000, sum.abs() % 1000)
    };
    let (x, y, mut n) = (sum('X'), sum('Y'), 0);
    let rows = text.lines().filter(|l| l.starts_with('N')).count() - 1;
    let mut line = |line: &str| {
        if line.starts_with('N') {
            n += 10;
            let rest = line.split_once(' ').map_or("", |(_, rest)| rest);
            format!("N{n} {rest}")
        } else if line.starts_with("(ROWS ") {
            format!("(ROWS {rows} - N20 to N{})", (rows + 1) * 10)
        } else if line.starts_with("(SUM OF X ") {
            format!("(SUM OF X {x})")
        } else if line.starts_with("(SUM OF Y ") {
            format!("(SUM OF Y {y})")
        } else {
            line.to_owned()
        }
    };
    text.lines().map(|l| line(l) + "\n").collect()
}

/// Going across to a bore, into it, out of it.
const ACROSS: &str = " G0 X";
const DOWN: &str = " G1 Z-";
const LAST: usize = 999_999;

/// What is done to a list, to which, and what must be said of which line.
#[rustfmt::skip]
const KINDS: &[(&str, &str, Spoil, &str, On)] = &[
    // Places.
    ("a sign of Y", "10-", |t| mended(&turn(t, (1, 1, ACROSS), 'Y', |v| -v)), "centre", Edit),
    ("X and Y swapped", "10-", |t| mended(&change(t, (1, 1, ACROSS), swapped)), "centre", Edit),
    ("X mirrored throughout", "10-", |t| mended(&every(t, 'X', |v| -v)), "centre", Edit),
    ("Y mirrored throughout", "10-", |t| mended(&every(t, 'Y', |v| -v)), "centre", Edit),
    ("both axes turned about", "10-", |t| mended(&every(&every(t, 'X', |v| -v), 'Y', |v| -v)), "centre", Edit),
    ("two thousandths off", "10-", |t| mended(&turn(t, (2, 2, ACROSS), 'X', |v| v + 0.002)), "centre", Edit),
    ("a digit of X", "20-", |t| mended(&turn(t, (1, 3, ACROSS), 'X', |v| v + 0.6)), "centre", Edit),
    ("a bore fifty off", "50-", |t| mended(&turn(t, (1, 2, ACROSS), 'X', |v| v + 50.0)), "centre", Edit),
    ("the zero of another set-up", "10-", |t| mended(&every(t, 'X', |v| v + 18.0)), "centre", Edit),
    ("two bores exchanged", "10-", |t| {
        let [a, b] = [at(t, 2, 1, ACROSS), at(t, 2, 2, ACROSS)];
        mended(&lines(t, &[0..a, b..b + 1, a + 1..b, a..a + 1, b + 1..LAST]))
    }, "cylinder_named", Edit),
    ("inches", "10-", |t| mended(&every(&every(&every(t, 'X', |v| v / 25.4), 'Y', |v| v / 25.4), 'Z', |v| v / 25.4)), "rapid_down", Edit),
    ("X beyond the travel", "10-", |t| mended(&turn(t, (1, 1, ACROSS), 'X', |v| v + 900.0)), "travel", Edit),
    ("Y beyond the travel", "10-", |t| mended(&turn(t, (1, 1, ACROSS), 'Y', |v| v - 239.0)), "travel", Edit),
    ("Z beyond the travel", "10-", |t| turn(t, (1, 1, " G0 Z"), 'Z', |v| v + 500.0), "travel", Edit),
    ("a bore that is not planned", "10-", |t| mended(&before(t, (1, 2, ACROSS), &["G0 X92.000 Y0.000", "S344 M3", "G1 Z-10.000 F51.6", "M5", "G0 Z5.000"])), "centre", Edit),
    // Depths.
    ("a hundredth too deep", "10-", |t| turn(t, (2, 1, DOWN), 'Z', |v| v - 0.01), "too_deep", Edit),
    ("two thousandths too deep", "20-", |t| turn(t, (2, 1, " F2."), 'Z', |v| v - 0.002), "too_deep", Edit),
    ("too shallow", "10-", |t| turn(t, (2, 1, DOWN), 'Z', |v| v / 10.0), "too_shallow", Edit),
    ("a depth without its sign", "10-", |t| turn(t, (2, 1, DOWN), 'Z', |v| -v), "cuts_nothing", Edit),
    ("below the room under the bore", "10-", |t| turn(t, (2, 1, DOWN), 'Z', |v| v - 20.0), "room_below", Edit),
    ("below the tool's reach", "10-", |t| turn(t, (2, 1, DOWN), 'Z', |v| v - 200.0), "tool_reach", Edit),
    // Rapids.
    ("a rapid through metal", "10-", |t| put(t, (2, 1, DOWN), "G1", "G0"), "rapid_down", Edit),
    ("a rapid down onto a ledge", "20-", |t| put(t, (2, 1, DOWN), "G1", "G0"), "rapid_down", Edit),
    ("a rapid across in the bore", "10-", |t| mended(&drop(t, (2, 2, " G0 Z"))), "rapid_across", At(2, 3, ACROSS)),
    ("a rapid that does not clear", "10-", |t| turn(t, (2, 2, " G0 Z"), 'Z', |v| -v), "rapid_out", Edit),
    ("a clearance of half", "10-", |t| every(t, 'Z', |v| if v > 0.0 { 2.5 } else { v }), "rapid_down", Edit),
    ("the plate not cleared", "50-", |t| every(t, 'Z', |v| if v > 0.0 { 5.0 } else { v }), "rapid_down", Edit),
    ("a fast way out of a sized bore", "20-", |t| put(t, (1, 1, " G1 Z5."), "G1", "G0"), "rapid_out", Edit),
    ("a fast way out while turning", "10-", |t| mended(&drop(t, (2, 1, " M5 "))), "rapid_out", Edit),
    // Spindle, speed, feed.
    ("the spindle not started", "10-", |t| mended(&drop(t, (2, 1, " M3 "))), "spindle", At(2, 1, DOWN)),
    ("the spindle never stopped", "10-", |t| mended(&drop(t, (1, 1, " M5 "))), "spindle", At(1, 1, " M0 ")),
    ("the other way round", "10-", |t| put(t, (1, 1, " M3 "), "M3", "M4"), "unknown_word", Edit),
    ("another speed", "10-", |t| turn(t, (2, 1, " M3 "), 'S', |v| v + 45.0), "speed", Edit),
    ("a speed that the machine has not", "10-", |t| turn(t, (2, 1, " M3 "), 'S', |v| 10.0 * v), "speed", Edit),
    ("no speed", "10-", |t| change(t, (1, 1, " M3 "), |l| format!("{} M3", l.split(' ').next().unwrap())), "no_speed", Edit),
    ("ten times the feed", "10-", |t| turn(t, (2, 1, DOWN), 'F', |v| 10.0 * v), "feed", Edit),
    ("a tenth of the feed", "10-", |t| turn(t, (2, 1, DOWN), 'F', |v| v / 10.0), "feed", Edit),
    ("a feed of nothing", "10-", |t| turn(t, (2, 1, DOWN), 'F', |_| 0.0), "feed", Edit),
    ("a feed that the machine has not", "10-", |t| turn(t, (2, 1, DOWN), 'F', |_| 9999.9), "feed", Edit),
    ("no feed at all", "10-", |t| t.lines().map(|l| if l.starts_with('N') { l.split(" F").next().unwrap() } else { l }.to_owned() + "\n").collect(), "no_feed", Edit),
    ("a ledge at full feed", "20-", |t| turn(t, (2, 1, " F26."), 'F', |_| 85.3), "ledge_feed", Edit),
    ("a ledge that the tip rubs", "20-", |t| turn(t, (2, 1, " F26."), 'F', |_| 2.1), "ledge_feed", Edit),
    ("the slow stretch too short", "20-", |t| turn(t, (2, 2, DOWN), 'Z', |v| v - 0.18), "ledge_feed", At(2, 2, " F26.")),
    ("no dwell on a ledge", "20-", |t| turn(t, (2, 1, " F2."), 'F', |_| 26.7), "ledge_feed", Edit),
    ("a dwell from too high", "20-", |t| turn(t, (2, 1, " F26."), 'Z', |v| v + 0.02), "ledge_feed", At(2, 1, " F2.")),
    ("a trial cut of another depth", "20-", |t| turn(t, (2, 1, DOWN), 'Z', |v| v - 0.5), "touch_missing", Edit),
    // Words.
    ("inch words", "10-", |t| one(t, "G21", "G20"), "unknown_word", Edit),
    ("the other millimetre word", "10-", |t| one(t, "G21", "G71"), "unknown_word", Edit),
    ("steps instead of coordinates", "10-", |t| one(t, "G90", "G91"), "unknown_word", Edit),
    ("feed per turn", "10-", |t| one(t, "G94", "G95"), "unknown_word", Edit),
    ("another plane", "10-", |t| one(t, "G17", "G18"), "unknown_word", Edit),
    ("no opening row", "10-", |t| mended(&without(t, "N10 ")), "modes", Text("N10 G0 Z94.100")),
    ("a canned cycle", "10-", |t| put(t, (1, 1, DOWN), "G1", "G81"), "unknown_word", Edit),
    ("a work offset", "10-", |t| put(t, (2, 1, ACROSS), "G0", "G54 G0"), "unknown_word", Edit),
    ("a cutter compensation", "10-", |t| put(t, (2, 1, ACROSS), "G0", "G41 G0"), "unknown_word", Edit),
    ("a subroutine", "10-", |t| put(t, (1, 1, " M0 "), "M0", "M98 P1"), "unknown_word", Edit),
    ("two kinds of move in one row", "10-", |t| put(t, (2, 1, DOWN), "G1", "G0 G1"), "two_motions", Edit),
    ("a row without its kind of move", "10-", |t| put(t, (2, 1, DOWN), "G1 ", ""), "no_motion_word", Edit),
    ("a stop in a row that moves", "10-", |t| put(t, (2, 1, " G0 Z"), "Z5.000", "Z5.000 M0"), "order_and_move", Edit),
    ("an arc with a boring head", "10-", |t| put(t, (2, 1, DOWN), "G1", "G3 X46.016 Y0.039 I1.000 J0.000"), "across_in_bore", Edit),
    ("an arc without its centre", "10-", |t| put(t, (2, 1, DOWN), "G1", "G3 X46.016 Y0.039"), "arc", Edit),
    ("an arc that does not close", "10-", |t| put(t, (2, 1, DOWN), "G1", "G2 X46.516 Y0.039 I1.000 J0.000"), "arc", Edit),
    ("a straight move with a centre", "10-", |t| put(t, (2, 1, DOWN), "G1", "G1 I1.000 J0.000"), "arc", Edit),
    ("a decimal comma", "10-", |t| change(t, (1, 1, ACROSS), |l| l.replacen('.', ",", 1)), "decimal_comma", Edit),
    ("no decimals", "10-", |t| change(t, (1, 1, DOWN), |l| l.replacen("Z-10.000", "Z-10", 1)), "number", Edit),
    ("two decimals", "10-", |t| change(t, (1, 1, DOWN), |l| l.replacen("Z-10.000", "Z-10.00", 1)), "number", Edit),
    ("a number without end", "10-", |t| put(t, (1, 1, ACROSS), " X", " X46000000000000000000"), "number", Edit),
    ("a minus that is none", "10-", |t| put(t, (2, 1, DOWN), "Z-", "Z\u{2212}"), "character", Edit),
    ("small letters", "10-", |t| put(t, (2, 1, DOWN), "G1", "g1"), "character", Edit),
    ("a row marked to be skipped", "10-", |t| change(t, (2, 1, DOWN), |l| format!("/{l}")), "character", Edit),
    ("a comment that swallows a row", "10-", |t| change(t, (2, 1, DOWN), |l| format!("(down {l}")), "comment", Edit),
    ("numbers that run back", "10-", |t| change(t, (2, 1, DOWN), |l| format!("N11 {}", l.split_once(' ').unwrap().1)), "numbering", Edit),
    // Rows lost, doubled, out of order.
    ("a lost row", "10-", |t| drop(t, (1, 2, " M5 ")), "gap", At(1, 2, " G0 Z94")),
    ("a lost row, counted", "10-", |t| drop(t, (1, 2, " M5 ")), "rows", Text("(ROWS ")),
    ("a lost place", "10-", |t| mended(&drop(t, (2, 2, ACROSS))), "twice_cut", Text("N530 G1 Z-")),
    ("a lost cut", "10-", |t| mended(&drop(t, (1, 1, " G1 Z-139"))), "unfinished", At(1, 2, ACROSS)),
    ("a cut twice", "10-", |t| mended(&before(t, (2, 1, " M5 "), &["G1 Z5.000 F50.7", "G1 Z-139.000 F50.7"])), "twice_cut", Text("N510 G1 Z-139.000")),
    ("a step lost", "10-", |t| mended(&lines(t, &[0..step(t, 2), step(t, 3)..LAST])), "missing", At(2, 1, ACROSS)),
    ("two steps exchanged", "10-", |t| mended(&lines(t, &[0..step(t, 2), step(t, 3)..step(t, 4), step(t, 2)..step(t, 3), step(t, 4)..LAST])), "order", At(3, 1, ACROSS)),
    ("a bore left out", "10-", |t| mended(&lines(t, &[0..bore(t, 2, 2), bore(t, 2, 3)..LAST])), "missing", At(2, 2, ACROSS)),
    ("the last bore left out", "50-", |t| { let end = t.lines().position(|l| l.starts_with("(ROWS ")).unwrap(); mended(&lines(t, &[0..bore(t, 1, 3), end..LAST])) }, "missing", Text("M30")),
    ("cut off in the middle", "10-", |t| t.lines().take(at(t, 2, 3, " G0 Z")).map(|l| format!("{l}\n")).collect(), "no_end", At(2, 3, " M5 ")),
    ("no end", "10-", |t| t.lines().filter(|l| !l.ends_with("M30")).map(|l| format!("{l}\n")).collect(), "no_end", Text("N1740 ")),
    ("rows after the end", "10-", |t| format!("{t}N1580 G0 Z-20.000\n"), "after_end", Edit),
    ("an empty file", "10-", |_| String::new(), "empty", Whole),
    // Stops and what is said at them.
    ("a stop to measure lost", "10-", |t| mended(&drop(t, (3, 1, " M0 "))), "stop_missing", At(3, 2, ACROSS)),
    ("the stop after the first touch lost", "10-", |t| mended(&drop(t, (1, 1, " M0 "))), "stop_missing", At(1, 1, " G1 Z-139")),
    ("no first touch", "10-", |t| mended(&drop(&drop(t, (1, 1, " G1 Z-10.")), (1, 1, " G1 Z5."))), "touch_missing", At(1, 1, " G1 Z-139")),
    ("a first touch of fifty", "10-", |t| turn(t, (1, 1, " G1 Z-10."), 'Z', |v| 5.0 * v), "touch_missing", Edit),
    ("a stop with the tool in the bore", "10-", |t| mended(&before(t, (2, 2, " G0 Z"), &["M0"])), "stop", Edit),
    ("no stop for plate and zero", "50-", |t| { let [from, to] = ["(torque plate on", "(step "].map(|w| t.find(w).unwrap()); mended(&format!("{}{}", &t[..from], &t[to..])) }, "stop_missing", Text("N30 M0")),
    ("a stop too low for a gauge", "10-", |t| turn(t, (1, 1, " G0 Z94"), 'Z', |_| 50.0), "stop_low", At(1, 1, " M0 ")),
    ("an end before the tool is drawn up", "10-", |t| t.replace("N1740 G0 Z94.100", "N1740 G0 Z90.100"), "end_low", Text("M30")),
    ("a stop where rapids stay", "10-", |t| mended(&drop(t, (1, 1, " G0 Z94"))), "stop_low", At(1, 1, " M0 ")),
    ("a plunge after a stop", "10-", |t| mended(&without(t, "N120 ")), "resume", Text("N120 G0 Z5.000")),
    ("X alone after a stop", "10-", |t| mended(&one(t, "N120 G0 X46.016 Y0.039", "N120 G0 X46.016")), "resume", Edit),
    ("a feed across after a stop", "10-", |t| one(t, "N120 G0 X", "N120 G1 X"), "resume", Edit),
    ("a first move across", "10-", |t| mended(&one(t, "N20 G0 Z94.100", "N20 G0 X0.000 Y0.000 Z94.100")), "first_move", Edit),
    ("a first move that may go down", "10-", |t| one(t, "N20 G0 Z94.100", "N20 G0 Z5.000"), "first_move", Edit),
    ("a first move at feed", "10-", |t| one(t, "N20 G0 Z94.100", "N20 G1 Z94.100 F51.6"), "first_move", Edit),
    ("no tool set", "10-", |t| mended(&without(t, "N30 M0")), "step", Text("N60 G1 Z-10.000")),
    ("a tool set to another size", "10-", |t| one(t, "set to 83.", "set to 84."), "diameter", Edit),
    ("another tool", "10-", |t| one(t, "(step 20 - rough head", "(step 20 - finish bar"), "tool", Edit),
    ("a step of another bank", "10-", |t| one(t, "(step 20 - rough head", "(step 140 - rough head"), "step", Edit),
    ("a comment of another bore", "10-", |t| one(t, "(cylinder 3", "(cylinder 5"), "cylinder_named", At(1, 2, ACROSS)),
    ("a step across with a wrong sign", "10-", |t| one(t, "(cylinder 3, step X +92.", "(cylinder 3, step X -92."), "step_said", Edit),
    // What the list says it is.
    ("the list of another plan", "10-", |t| one(t, "FINGERPRINT ", "FINGERPRINT 0000-"), "fingerprint", Edit),
    ("the cuts of the other bank", "30-", |t| one(t, "LIST 30 - rough - BANK right", "LIST 10 - rough - BANK left"), "step", Text("(step ")),
    ("the list of a stage that is not planned", "10-", |t| one(t, "LIST 10 - rough", "LIST 15 - rough"), "unknown_list", Whole),
    ("other cylinders in the head", "10-", |t| one(t, "CYLINDERS 1 3 5", "CYLINDERS 1 3"), "cylinders", Edit),
    ("another zero in the head", "10-", |t| one(t, "machine at X -142.350", "machine at X -142.530"), "zero", Edit),
    ("a touch check with a wrong sign", "10-", |t| one(t, "X +230.034 Y +0.191", "X +230.034 Y -0.191"), "touch", Text("(TOUCH CHECK 1")),
    ("a touch check on the wrong deck", "50-", |t| one(t, "Z +45.000", "Z +0.000"), "touch", Edit),
    ("a sum mistyped", "10-", |t| one(t, "SUM OF X 37", "SUM OF X 38"), "sum_x", Edit),
    ("no sums", "10-", |t| without(t, "(SUM OF Y"), "foot", Text("M30")),
];

/// What a list is told that is not as the plan has it.
const HELD: [&str; 7] = ["row", "rows_changed", "text", "empty", "unknown_list", "character", "travel"];

#[test]
fn every_kind_of_fault_is_caught_on_its_line() {
    let sample = sample();
    let mut names: Vec<&str> = KINDS.iter().map(|k| k.0).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), KINDS.len());
    assert!(KINDS.len() >= 90);
    let mut missed = String::new();
    for (kind, list, spoil, code, on) in KINDS {
        let words = sample.list(list);
        let spoiled = spoil(words);
        assert_ne!(&spoiled, words, "{kind}: nothing was spoiled");
        let proof = sample.prove(&spoiled);
        let line = match on {
            Edit => {
                let same = spoiled.lines().zip(words.lines()).take_while(|(a, b)| a == b).count();
                Some(same + 1)
            }
            At(stop, bore, has) => Some(at(&spoiled, *stop, *bore, has) + 1),
            Text(text) => {
                let at = spoiled.find(text).unwrap_or_else(|| panic!("{kind}: no {text:?}"));
                Some(spoiled[..at].matches('\n').count() + 1)
            }
            Whole => None,
        };
        // Held against the plan's own lines of it, it does not prove either, whatever it does.
        let name = sample.lists.iter().find(|l| l.0.contains(list)).map_or("x.nc", |l| l.0.as_str());
        let held = borewright_planner::prove::prove(&spoiled, None, name, &sample.reference());
        let held = !held.proven && held.flaws.iter().any(|f| HELD.contains(&f.code));
        let caught = held && proof.flaws.iter().any(|f| f.code == *code && f.line == line);
        if proof.proven || !caught {
            missed += &format!("{kind}: expected {code} on {line:?}, found\n{}\n", said(&proof));
        }
    }
    assert!(missed.is_empty(), "{missed}");
}

#[test]
fn mending_alone_changes_nothing_that_counts() {
    for (name, words, _) in &sample().lists {
        assert_eq!(&mended(words), words, "{name}");
    }
}

#[test]
fn a_flaw_reads_like_this() {
    let sample = sample();
    let words = put(sample.list("10-"), (2, 1, DOWN), "G1", "G0");
    insta::assert_snapshot!(sample.prove(&words).flaws[0].to_string(), @"line 111 (N490): a rapid down to Z-139.000 at X46.016 Y0.039, into metal; expected feed, or Z5.000 or above");
}

#[test]
fn a_cylinder_at_stop_or_held_without_a_release_is_withheld() {
    let sample = sample();
    let cylinder = |n: usize| format!("/cylinders/{n}/verdict");
    for (verdict, release, proven) in [
        ("stop", serde_json::Value::Null, false),
        ("stop", serde_json::json!({ "who": "A. Lead", "why": "so" }), false),
        ("hold", serde_json::Value::Null, false),
        ("hold", serde_json::json!({ "who": "A. Lead", "why": "so" }), true),
    ] {
        let mut plan: serde_json::Value = serde_json::from_str(&sample.plan).unwrap();
        *plan.pointer_mut(&cylinder(0)).unwrap() = verdict.into();
        plan["release"] = release;
        let reference = borewright_planner::prove::Reference::parse("plan.json", &plan.to_string()).unwrap();
        let proof = borewright_planner::prove::prove(sample.list("10-"), None, "10.nc", &reference);
        assert_eq!(proof.proven, proven, "{verdict}: {}", said(&proof));
        assert_eq!(proof.flaws.iter().any(|f| f.code == "withheld"), !proven);
    }
}

#[test]
fn a_table_that_says_something_else_is_named_with_both_lines() {
    let sample = sample();
    let (name, words, table) = &sample.lists[0];
    let bare = sample.bare();
    for (old, new) in [
        ("46.016", "46.061"),
        ("-139.000", "-193.000"),
        ("51.6", "51.7"),
        ("344", "345"),
        ("spindle off", "spindle on"),
        ("60,1,10,spindle on", "61,1,10,spindle on"),
        ("\r\n60,1,10,spindle on", "\r\n,1,10,spindle on"),
    ] {
        let edited = one(table, old, new);
        let proof = borewright_planner::prove::prove(words, Some(&edited), name, &bare);
        assert!(!proof.proven && proof.flaws.iter().all(|f| f.code == "table" && f.line.is_some()), "{old}");
    }
    let shorter: String =
        table.lines().filter(|l| !l.starts_with("1740,")).map(|l| format!("{l}\n")).collect();
    // A row of no line is a row too many: a touch, a sum, a word of the shop's.
    let longer = format!("{table},,,sum,1.000,,,,,,,\r\n");
    for edited in [shorter, longer, table.replace(",z_mm,", ",z,"), String::new(), "line\n".into()] {
        let proof = borewright_planner::prove::prove(words, Some(&edited), name, &bare);
        assert!(!proof.proven, "{edited}");
    }
}
