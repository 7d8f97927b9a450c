//! Results as JSON.

use borewright_planner::plan::Input;

use crate::OutputError;
use crate::said::record::{Answered, Happened};

/// A plan as it is written to `plan.json` and printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn plan_json(plan: &borewright_planner::plan::Plan) -> Result<Vec<u8>, OutputError> {
    plan_text(plan).map(String::into_bytes)
}

pub(crate) fn plan_text(plan: &borewright_planner::plan::Plan) -> Result<String, OutputError> {
    let mut json = escaped(serde_json::to_string_pretty(plan)?);
    json.push('\n');
    Ok(json)
}

/// The text of a plan that had no files and no seal yet, with both: they are the last of its keys, and a plan's text is a
/// third of a megabyte that is not made twice. `None` of a text that does not end as a plan's.
pub(crate) fn plan_with_files(
    open: &str,
    files: &[Input],
    seal: &str,
) -> Result<Option<String>, OutputError> {
    #[derive(serde::Serialize)]
    struct Last<'a> {
        #[serde(skip_serializing_if = "<[Input]>::is_empty")]
        files: &'a [Input],
        seal: &'a str,
    }
    let last = escaped(serde_json::to_string_pretty(&Last { files, seal })?);
    let (Some(before), Some(last)) = (open.strip_suffix("\n}\n"), last.strip_prefix('{')) else {
        return Ok(None);
    };
    Ok(Some(format!("{before},{last}\n")))
}

/// What is printed of figures and where they come from.
const EXPLAINED: &str = "borewright/explained/1";

/// What is printed of lines of the record and their answers.
const ANSWERED: &str = "borewright/answered/1";

/// Where figures come from, as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain text always serialises.
pub fn explained_json(
    accounts: &[borewright_planner::explain::Account],
    units: borewright_planner::plan::sentence::Units,
) -> Result<Vec<u8>, OutputError> {
    let told: Vec<_> =
        accounts.iter().map(|account| crate::said::explained::explained(account, units)).collect();
    as_it_is(&serde_json::json!({ "format": EXPLAINED, "accounts": told }))
}

/// What can be asked of a plan, as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain text always serialises.
pub fn unasked_json(unasked: &borewright_planner::explain::Unasked) -> Result<Vec<u8>, OutputError> {
    as_it_is(&serde_json::json!({ "format": EXPLAINED, "accounts": [], "can_be_asked": unasked.expected }))
}

/// A proof as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn proof_json(proof: &borewright_planner::prove::Proof) -> Result<Vec<u8>, OutputError> {
    let mut json = escaped(serde_json::to_string_pretty(proof)?);
    json.push('\n');
    Ok(json.into_bytes())
}

/// What became of a folder, as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain text always serialises.
pub fn verified_json(verified: &borewright_planner::verify::Verified) -> Result<Vec<u8>, OutputError> {
    let mut json = escaped(serde_json::to_string_pretty(verified)?);
    json.push('\n');
    Ok(json.into_bytes())
}

/// A job as it left, as it is written to `report.json` and printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn report_json(left: &borewright_planner::as_left::AsLeft) -> Result<Vec<u8>, OutputError> {
    rounded(serde_json::to_value(left)?)
}

/// What a shop's jobs say of it, as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn shop_json(shop: &borewright_planner::shop::Shop) -> Result<Vec<u8>, OutputError> {
    rounded(serde_json::to_value(shop)?)
}

/// A survey as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn survey_json(report: &borewright_planner::report::SurveyReport) -> Result<Vec<u8>, OutputError> {
    let mut value = serde_json::to_value(report)?;
    round(&mut value);
    let mut json = escaped(serde_json::to_string_pretty(&value)?);
    json.push('\n');
    Ok(json.into_bytes())
}

/// A block's figures as they are kept for its family.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn figures_json(figures: &borewright_planner::family::Figures) -> Result<Vec<u8>, OutputError> {
    rounded(serde_json::to_value(figures)?)
}

/// A family's trend as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn trend_json(trend: &borewright_planner::family::Trend) -> Result<Vec<u8>, OutputError> {
    rounded(serde_json::to_value(trend)?)
}

/// A reading with its answer, as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn answered_json(answered: &Answered<'_>) -> Result<Vec<u8>, OutputError> {
    let mut value = answer_value(answered);
    if let serde_json::Value::Object(map) = &mut value {
        map.insert("format".into(), ANSWERED.into());
    }
    as_it_is(&value)
}

/// Readings of one page with their answers, as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn page_json(answered: &[Answered<'_>]) -> Result<Vec<u8>, OutputError> {
    let answers: Vec<_> = answered.iter().map(answer_value).collect();
    as_it_is(&serde_json::json!({ "format": ANSWERED, "answers": answers }))
}

fn answer_value(answered: &Answered<'_>) -> serde_json::Value {
    use borewright_planner::record::Heard;

    let (check, cylinder, asked) = answered.at;
    let figure = if let Heard::Figure { value, .. } = answered.heard { Some(value) } else { None };
    let [here, all] = answered.onward.to_come;
    let next = answered
        .onward
        .next
        .map(|(check, cylinder)| serde_json::json!({ "check": check, "cylinder": cylinder }));
    serde_json::json!({
        "line": answered.line, "check": check.check, "cylinder": cylinder, "reading": asked.reading,
        "feature": check.feature, "of": asked.of, "depth": asked.depth, "clock": asked.clock,
        "figure": figure, "unit": asked.unit, "expected": asked.expected, "least": asked.least, "most": asked.most,
        "answer": answered.answer, "held": answered.onward.held,
        "stands": answered.answer.say.stands(&answered.onward.held), "to_come": { "here": here, "all": all, "next": next },
    })
}

/// Something that happened with its answer, as it is printed by `--format json`.
///
/// # Errors
/// None that is known: plain numbers and text always serialise.
pub fn happened_json(happened: &Happened<'_>) -> Result<Vec<u8>, OutputError> {
    as_it_is(&serde_json::json!({
        "format": ANSWERED, "line": happened.line, "event": happened.what.word(), "cylinder": happened.cylinder,
        "answer": happened.answer, "held": happened.held, "stands": happened.answer.say.stands(happened.held),
    }))
}

/// Figures as they were recorded.
fn as_it_is(value: &serde_json::Value) -> Result<Vec<u8>, OutputError> {
    let mut json = escaped(serde_json::to_string_pretty(value)?);
    json.push('\n');
    Ok(json.into_bytes())
}

fn rounded(mut value: serde_json::Value) -> Result<Vec<u8>, OutputError> {
    round(&mut value);
    let mut json = escaped(serde_json::to_string_pretty(&value)?);
    json.push('\n');
    Ok(json.into_bytes())
}

/// Rounds every figure to a billionth, as slopes of a plan are: equal inputs then give equal bytes.
fn round(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Number(number) if number.is_f64() => {
            // A probability far below a billionth is still a figure.
            let round = |value: f64| {
                use borewright_planner::plan::rounding::{significant, slope};
                if value.abs() < 1e-6 { significant(value) } else { slope(value) }
            };
            let rounded = number.as_f64().map(round);
            if let Some(rounded) = rounded.and_then(serde_json::Number::from_f64) {
                *number = rounded;
            }
        }
        serde_json::Value::Array(values) => values.iter_mut().for_each(round),
        serde_json::Value::Object(map) => map.values_mut().for_each(round),
        _ => {}
    }
}

/// JSON escapes what is below a blank; what else moves a terminal's cursor or turns text about is escaped
/// here, so that a plan may be printed. Such characters stand in strings alone.
fn escaped(json: String) -> String {
    if json.bytes().all(|byte| byte < 0x7F) {
        return json;
    }
    let mut text = String::with_capacity(json.len() + 64);
    let (mut from, mut at) = (0, 0);
    // From one character beyond ASCII, or a delete, to the next: there are few.
    while let Some(ahead) = json.as_bytes()[at..].iter().position(|byte| *byte >= 0x7F) {
        at += ahead;
        let Some(c) = json[at..].chars().next() else { break };
        let here = at;
        at += c.len_utf8();
        let (0x7F..=0x9F | 0x200B..=0x200F | 0x2028..=0x202E | 0x2060..=0x206F | 0xFEFF | 0xFFF9..=0xFFFB) =
            u32::from(c)
        else {
            continue;
        };
        text.push_str(&json[from..here]);
        text.push_str(&format!("\\u{:04x}", u32::from(c)));
        from = at;
    }
    text.push_str(&json[from..]);
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing;

    #[test]
    fn a_plan_that_gets_its_files_last_reads_as_one_made_whole() {
        let mut plan = testing::dunnock().plan;
        let open = plan_text(&plan).unwrap();
        let file = |name: &str| Input { file: name.to_owned(), sha256: "ab".repeat(32) };
        for files in [vec![], vec![file("job.html")], vec![file("a"), file("\u{e9}")]] {
            "0".repeat(64).clone_into(&mut plan.seal);
            plan.files.clone_from(&files);
            let with_files = plan_with_files(&open, &files, &plan.seal).unwrap();
            assert_eq!(with_files, Some(plan_text(&plan).unwrap()));
        }
    }
}
