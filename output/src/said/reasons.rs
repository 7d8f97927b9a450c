//! Why each bore stands where it is planned, in lines: bores of which the same is said together, and nothing twice that
//! the head of the page says already.

use borewright_planner::plan::why::{Because, Of};
use borewright_planner::plan::{Cylinder, Verdict};

use super::alike::alike_but_figures;
use super::units::Units;

const ABOVE: &str = "as said above";

/// What is said of one bore or of several alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Line {
    /// Their verdict.
    pub(crate) verdict: Verdict,
    /// In words.
    pub(crate) text: String,
    /// Their numbers, in the order that they came in.
    pub(crate) cylinders: Vec<u32>,
    /// Whether nothing is new in it but figures.
    pub(crate) in_figures: bool,
}

/// A line for each bore, those of which the same is said as one. `above`: what the head of the page says, in these
/// units. Of bores at go the same is said wherever the nearest metal stands.
pub(crate) fn lines<'a>(
    bores: impl IntoIterator<Item = &'a Cylinder>,
    above: &[String],
    units: Units,
) -> Vec<Line> {
    // Told without their places where several are alike.
    let mut lines: Vec<(Line, String)> = Vec::new();
    for bore in bores {
        let (text, in_figures) = reason(bore, &units.say(&bore.why.own()), above, units);
        let short = match bore.verdict {
            Verdict::Go => reason(bore, &units.say(&bore.why.stands.without_place()), above, units).0,
            _ => text.clone(),
        };
        let same = |(line, alike): &&mut (Line, String)| line.verdict == bore.verdict && *alike == short;
        match lines.iter_mut().find(same) {
            Some((line, _)) => {
                line.cylinders.push(bore.cylinder);
                if line.text != text {
                    line.text = short;
                }
            }
            None => {
                let cylinders = vec![bore.cylinder];
                lines.push((Line { verdict: bore.verdict, text, cylinders, in_figures }, short));
            }
        }
    }
    lines.into_iter().map(|(line, _)| line).collect()
}

/// What is said of one bore that `own` is the finding of; and whether nothing in it is new but figures.
fn reason(bore: &Cylinder, own: &str, above: &[String], units: Units) -> (String, bool) {
    let is_above = |text: &str| !text.is_empty() && above.iter().any(|a| a == text);
    let is_alike = |text: &str| above.iter().any(|a| alike_but_figures(a, text));
    let told = is_above(own);
    let in_figures = !told && bore.verdict != Verdict::Go && is_alike(own);
    let covered = told || in_figures;
    let mut text = match (told, in_figures) {
        (true, _) => ABOVE.to_owned(),
        (_, true) => format!("{ABOVE}, in other figures"),
        _ => own.to_owned(),
    };
    let is_told = |because: &&Because| {
        let finding = units.say(because.finding());
        is_above(&finding) || (because.of == Of::Doubt && is_alike(&finding))
    };
    let beside = || bore.why.because.iter().filter(|b| b.of != Of::Limit);
    let only_sleeve = beside().filter(|b| b.of != Of::Doubt).filter(is_told).all(|b| b.of == Of::Sleeve);
    let (mut pointed, mut is_new) = (false, false);
    for because in beside() {
        match (is_told(&because), because.of) {
            // One pointer stands for all that is told above.
            (true, _) if covered => {}
            // Its likely cause alone is as short as a pointer.
            (false, _) | (true, Of::Doubt) => {
                is_new = true;
                text.push_str(&format!("; {}", units.say(&because.whole())));
            }
            (true, _) if pointed => {}
            (true, _) => {
                pointed = true;
                text.push_str(&format!("; {}{ABOVE}", if only_sleeve { Of::Sleeve.label() } else { "" }));
            }
        }
    }
    (text, in_figures && !is_new)
}

#[cfg(test)]
mod tests {
    use borewright_planner::job::SheetUnits;
    use borewright_planner::plan::Why;
    use borewright_planner::plan::sentence::Sentence;
    use borewright_planner::plan::why::{Kept, Named, Stands};

    use super::*;

    const SLEEVE: &str = "0.000 mm on diameter are left for the hone";
    const DOUBT: &str = "y stands far off; likely y read in inches; read it again";

    /// Kept from a neighbour.
    fn kept(neighbour: u32) -> Why {
        let gap = Named { limit: "flange gap".into(), at: format!("flange to cylinder {neighbour}").into() };
        let kept =
            Kept { how: "closest metal: ".into(), limits: vec![gap], leaves: ", margin 0.100 mm".into() };
        let off = Sentence::from("true to the journal axis");
        Why { stands: Stands { off, way: None, kept: Some(kept) }, because: Vec::new() }
    }

    /// Held by a wall that is short by so much.
    fn short(by: &str) -> Why {
        let mut why = Why::from("0.020 mm off true");
        why.add(Of::Limit, format!("parent wall is short by {by} mm").into());
        why
    }

    fn bores(of: &[(Verdict, Why)]) -> Vec<Cylinder> {
        let planning = crate::testing::dunnock();
        let made = planning.plan.cylinders.iter().cycle().zip(1..).zip(of);
        made.map(|((bore, cylinder), (verdict, why))| Cylinder {
            cylinder,
            verdict: *verdict,
            why: why.clone(),
            ..bore.clone()
        })
        .collect()
    }

    fn told(of: &[(Verdict, Why)], above: &[&str]) -> Vec<(Vec<u32>, String, bool)> {
        let above: Vec<String> = above.iter().map(|&a| a.to_owned()).collect();
        let lines = lines(&bores(of), &above, Units::of(SheetUnits::Mm));
        lines.into_iter().map(|l| (l.cylinders, l.text, l.in_figures)).collect()
    }

    #[test]
    fn bores_at_go_are_told_together_wherever_their_nearest_metal_stands() {
        let of = [(Verdict::Go, kept(3)), (Verdict::Go, kept(1)), (Verdict::Go, kept(3))];
        let text = "true to the journal axis; closest metal: flange gap, margin 0.100 mm";
        assert_eq!(told(&of, &[]), [(vec![1, 2, 3], text.to_owned(), false)]);
        // Of one alone its place is told; and of bores at hold.
        let whole =
            "true to the journal axis; closest metal: flange gap (flange to cylinder 3), margin 0.100 mm";
        assert_eq!(told(&of[..1], &[]), [(vec![1], whole.to_owned(), false)]);
        let held = [(Verdict::Hold, kept(3)), (Verdict::Hold, kept(1))];
        assert_eq!(told(&held, &[]).len(), 2);
    }

    #[test]
    fn each_reason_that_stands_above_is_pointed_to_wherever_it_stands_among_the_others() {
        let mut why = kept(3);
        why.add(Of::Sleeve, SLEEVE.into());
        let (text, finding) = ("y read in inches".into(), Some(DOUBT.into()));
        why.because.push(Because { of: Of::Doubt, text, finding });
        let own = why.own().to_string();
        let held = [(Verdict::Hold, why)];
        let one = |above: &[&str]| told(&held, above).remove(0).1;
        assert_eq!(one(&[]), format!("{own}; sleeve: {SLEEVE}; in doubt: y read in inches"));
        assert_eq!(
            one(&[DOUBT, SLEEVE]),
            format!("{own}; sleeve: as said above; in doubt: y read in inches")
        );
        // One pointer stands for all.
        assert_eq!(one(&[DOUBT, &own, SLEEVE]), "as said above");
        assert_eq!(one(&[&own]), format!("as said above; sleeve: {SLEEVE}; in doubt: y read in inches"));
        assert_eq!(one(&[&own, SLEEVE]), "as said above; in doubt: y read in inches");
    }

    #[test]
    fn a_pointer_names_the_sleeve_where_it_points_at_nothing_else() {
        let mut why = kept(3);
        why.add(Of::Unread, "no wall was read".into());
        why.add(Of::Sleeve, SLEEVE.into());
        why.add(Of::Finding, "the mandrel is in the way".into());
        let own = why.own().to_string();
        let held = [(Verdict::Hold, why)];
        let one = |above: &[&str]| told(&held, above).remove(0).1;
        let all = ["no wall was read", SLEEVE, "the mandrel is in the way"];
        assert_eq!(one(&all), format!("{own}; as said above"));
        assert_eq!(one(&all[..2]), format!("{own}; as said above; the mandrel is in the way"));
        assert_eq!(
            one(&[SLEEVE]),
            format!("{own}; no wall was read; sleeve: as said above; the mandrel is in the way")
        );
    }

    #[test]
    fn what_is_new_in_its_figures_alone_is_marked_so() {
        let [first, mut other] = [short("0.011"), short("0.012")];
        let above = first.own().to_string();
        other.add(Of::Sleeve, SLEEVE.into());
        let of = [(Verdict::Hold, first), (Verdict::Hold, other)];
        let figures = "as said above, in other figures".to_owned();
        let first = (vec![1], "as said above".to_owned(), false);
        assert_eq!(told(&of, &[&above, SLEEVE]), [first.clone(), (vec![2], figures.clone(), true)]);
        let new = (vec![2], format!("{figures}; sleeve: {SLEEVE}"), false);
        assert_eq!(told(&of, &[&above]), [first, new]);
        // A doubt that is told in other figures is told.
        let mut doubted = short("0.013");
        let finding = Some(DOUBT.replace("far", "4 far").into());
        doubted.because.push(Because { of: Of::Doubt, text: "y read in inches".into(), finding });
        let told = told(&[(Verdict::Hold, doubted)], &[&above, &DOUBT.replace("far", "3 far")]);
        assert_eq!(told, [(vec![1], "as said above, in other figures".to_owned(), true)]);
    }
}
