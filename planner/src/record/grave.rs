//! Words that tell of a block, a pocket or a fit which may be lost, and of a set-up that was.

/// Rows of words of which any one tells. A word: others for it apart by `|`; `crack*` any that begins so, `*crack*` any with it
/// inside. What a sentence says between two of them without adding anything (`was`, `the`) is passed over. A row after `~` tells
/// nothing where a gauge lost, bumped or read it: `the dial lost its zero`. A word after `!` must not follow.
const TELLS: &[&str] = &[
    // The casting.
    "*crack*",
    "crak*",
    "*leak*",
    "*fractur*",
    "*poros*",
    "porous*",
    "porus*",
    "broke*",
    "break*",
    "burst*",
    "chipped*",
    "split*",
    "weep*",
    "seep*",
    "void|voids",
    "cavity|cavities",
    "sand|blow|pin hole*",
    "sandhole*|blowhole*|pinhole*",
    "hairline*",
    "fissure*",
    "rift|rifts",
    "deck|bore|bores|register*|ledge|recess|pocket|face|sleeve*|flange dinged|dented|dinted|bruised",
    "ding|dings|dent|dents|dint|dints in|on|at",
    "hammer mark|marks|blow|blows",
    "flaw|flaws|flawed",
    "inclusion|inclusions",
    "cold shut*",
    "coldshut*",
    "daylight between|through|under|behind|past|shows|shines|visible",
    "see|sees|saw|shows daylight",
    "see|sees|saw light between|through|under|behind|past",
    "water jacket",
    "water comes|came|coming|runs|ran|gets|got|enters|pours|drops in|into|through|out",
    "wall|walls thin|thinner|paper|gone",
    "thin wall|walls|spot|place !sleeve*|liner*|shell*",
    "corroded|rusted|eaten|rotted through|away",
    "hole|holed through",
    "runs|ran|running out",
    "torn|tore|pulled out",
    "thread|threads stripped|torn|pulled",
    // The set-up.
    "slipped*",
    "moved*",
    "shifted*",
    "knocked*",
    "dropped*",
    "crash*",
    "~bump* fixture*|table|block|engine|machine|clamp*|vice|head|spindle|bar|deck|sleeve*|datum|stop|it|into|against",
    "~fixture|table|block|engine|machine|head|spindle|bar bumped",
    "~hit|hits|hitting|struck clamp*|fixture*|vice|jaw*|table|block|deck|ledge|sleeve*|wall*|head|bolt*|stud*|bar|stop|parallel*|something",
    "~lost|loses|lose zero|datum|origin|position|reference*|home|steps|count",
    "~zero|datum|origin lost|gone|moved|wrong|off",
    "power cut|fail*|lost|out|off|gone|outage",
    "restart* control|machine",
    "control|machine restart*",
    "block|engine lifted|taken|took|put off|out|up|back|down|again",
    "lifted|took block|engine",
    "block|engine|fixture|clamp*|vice|parallel* slid|slides|slide|sliding",
    "slid sideways|off|on|along",
    "rocked|rocks|rocking",
    "reclamp*",
    "re clamp*",
    "clamped again|anew",
    "clamp*|vice|tool|insert|bar|head|holder|fixture|bolt*|nut*|block|engine|spindle|jaw*|sleeve* loose",
    "worked|working|got|gone loose",
    "loose clamp*|vice|tool|insert|holder|fixture|bolt*|nut*|block|jaw*",
    "block|engine fell|falls|fallen|tipped|toppled|swung",
    "~table|block|engine|fixture|machine|head|spindle|axis|bar jumped|jumps|jerked|stalled|jammed|seized|tripped",
    "clamp*|strap*|vice came|come|flew|popped|fell off|loose|up|undone",
    "shim*|parallel*|wedge*|packing|locator*|dowel* fell|came|slid|slipped|missing|gone",
    "e stop*",
    "estop*",
    "emergency stop*|button|off",
    "home|homed|homing|rehomed again|axes|axis|table|x|y|z",
    "home|homing|rehome machine",
    "~x|y|z|zero|datum out|off by",
    // The casting.
    "torn|tore metal|iron|wall*|material|surface|edge*|bore",
    "metal|iron|wall*|material|surface|edge*|bore torn|tore",
    "piece|pieces|chunk*|lump*|flake* came|off|away|missing|gone|fell|broke*|out",
    "shell*|liner* spun|spins|spin|loose",
    "hole|holes in|through wall*|bridge*|web*|casting|jacket*|side",
    "nick|nicked|nicks|clipped|caught|scored stud*|bolt*|hole*|deck|ledge|wall*|bridge*|web*",
    "went|goes through !the|list*|card*|plan|it|all|everything|them|check*",
    "hit|met|struck|reached water|jacket|coolant|daylight",
    "found water|daylight",
    "~jacket*|wall*|bridge|web open*|holed",
    "water|coolant in|inside bore*|pocket*|recess|hole|oil|sump|cylinder*|it",
    // The cut.
    "too big|large|wide|much",
    "cut|bored|came|comes|out|is|was|mm big",
    "~too deep",
    "cut|bored|bore|went|gone|machined too far|large|big|wide|much",
    "~oversize|oversized|overcut|overbored !sleeve*|piston*|ring*|liner*|o",
    "~over size !sleeve*|piston*|ring*|liner*|o",
    "gouge*|gouging",
    "register*|recess|pocket|sleeve* oval|lobed|egg",
    "register*|recess|pocket|sleeve* out of round",
    "chatter mark|marks",
    "chattered",
    "insert|tip|cutter wore|worn",
    "out of calibration",
    "calibration expired|overdue|lapsed",
    "wrong sleeve*|liner*",
    "iron left|remains|remaining|remained",
    "no iron seen|found|visible|shown at all",
    "no iron anywhere",
    // The test and the fit.
    "bubble*|bubbling",
    "lose|loses|lost|losing|drops pressure",
    "pressure drop*|falls|fell|falling|lost|sinks|sank",
    "not|t|cannot|never|doesnt|didnt|wont|cant hold|holds|held pressure|air|water|tight",
    "fails|failed|failing pressure|test",
    "drip|drips|dripped|dripping",
    "wet below|under|beneath|underneath|behind|outside",
    "sleeve*|it|flange fell|falls|fallen in|into|through|down|out",
    "fell|falls in|through",
    "sleeve* spun|spins|spin|turns|turned|rotates by hand",
    "sleeve* cocked|tilted|crooked|askew",
    "sleeve* stuck|jammed|seized|hung",
    "in|sits|stands crooked|askew|cocked|tilted|skew",
    "o ring* cut|torn|pinch*|damag*|nick*|shear*|roll*|twist*|shav*|split|missing|squeezed",
    "oring* cut|torn|pinch*|damag*|nick*|shear*|roll*|twist*|shav*|split|missing|squeezed",
    "cut|cuts|pinched|nicked|tore|torn|damaged|sheared o|oring*",
    "swarf|chip|chips|dirt|grit|burr* under|beneath|below|behind|between",
];

/// Words that stand between those of a row and say nothing of their own.
const BETWEEN: [&str; 31] = [
    "a", "an", "the", "its", "it", "his", "our", "this", "that", "my", "was", "were", "is", "are", "has",
    "had", "been", "be", "did", "does", "then", "came", "comes", "come", "went", "any", "very", "quite",
    "bit", "out", "from",
];

/// What is measured with, and that it was measured: what one lost, or one read, happened to no block.
const GAUGES: [&str; 15] = [
    "gauge",
    "gauges",
    "dial",
    "indicator",
    "micrometer",
    "mic",
    "probe",
    "stylus",
    "read",
    "reads",
    "reading",
    "gauged",
    "measured",
    "typed",
    "written",
];

/// A gauge stands at most this many words before what it lost or read.
const NEAR_GAUGE: usize = 4;

/// Whether a row of words that tells of damage begins at a place.
pub(super) fn is_grave(words: &[&str], at: usize) -> bool {
    TELLS.iter().any(|row| is_row(row, words, at))
}

/// Whether a row of words begins at a place; one that begins with `^` only where a clause does.
pub(super) fn is_row(row: &str, words: &[&str], at: usize) -> bool {
    let row = match row.strip_prefix('^') {
        Some(_) if at > 0 => return false,
        Some(row) => row,
        None => row,
    };
    let (row, is_of_block) = row.strip_prefix('~').map_or((row, false), |row| (row, true));
    let from = at.saturating_sub(NEAR_GAUGE);
    if is_of_block && words.get(from..at).unwrap_or_default().iter().any(|w| GAUGES.contains(w)) {
        return false;
    }
    let mut next = at;
    for (nth, wanted) in row.split(' ').enumerate() {
        if let Some(barred) = wanted.strip_prefix('!') {
            return !words.get(next).is_some_and(|word| is_any(barred, word));
        }
        // Only behind the first: a row begins where its first word stands.
        let is_number = |word: &str| word.bytes().all(|b| b.is_ascii_digit());
        let is_between = |word: &str| (BETWEEN.contains(&word) || is_number(word)) && !is_any(wanted, word);
        while nth > 0 && words.get(next).is_some_and(|word| is_between(word)) {
            next += 1;
        }
        if !words.get(next).is_some_and(|word| is_any(wanted, word)) {
            return false;
        }
        next += 1;
    }
    true
}

fn is_any(wanted: &str, word: &str) -> bool {
    wanted.split('|').any(|one| match (one.strip_prefix('*'), one.strip_suffix('*')) {
        (Some(rest), _) => word.contains(rest.trim_end_matches('*')),
        (None, Some(begins)) => word.starts_with(begins),
        (None, None) => word == one,
    })
}
