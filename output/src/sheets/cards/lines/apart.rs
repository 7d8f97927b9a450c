//! Words of a check that differ from bore to bore: what all have in common is said once, what is of one bore beside its boxes.

/// What stands in the common words for those of each bore.
const EACH: &str = "each as beside it";
/// Words are parted behind these.
const ENDS: [char; 4] = ['.', ':', ';', ','];

/// The common words of several sentences, and of each what it has of its own; `None` where they have nothing in common that would
/// be worth it, or are one and the same.
pub(super) fn apart(told: &[&str]) -> Option<(String, Vec<String>)> {
    let each: Vec<Vec<&str>> = told.iter().map(|words| words.split(' ').collect()).collect();
    let (first, rest) = each.split_first()?;
    let alike = |from: fn(&[&str], usize) -> Option<String>| {
        let own = |at: usize| {
            from(first, at).filter(|word| rest.iter().all(|w| from(w, at).as_ref() == Some(word)))
        };
        (0..first.len()).take_while(|at| own(*at).is_some()).count()
    };
    let shortest = each.iter().map(Vec::len).min()?;
    let ahead = alike(|words, at| words.get(at).map(|&word| word.to_owned())).min(shortest);
    let behind = alike(|words, at| words.iter().rev().nth(at).map(|&word| word.to_owned()));
    if rest.is_empty() || ahead == first.len() {
        return None;
    }
    // Down to where a part of the sentence begins, and up to where one ends.
    let ends = |word: &&str| word.ends_with(ENDS);
    let ahead = first.get(..ahead)?.iter().rposition(ends).map_or(0, |at| at + 1);
    let tail = first.get(first.len().checked_sub(behind.min(shortest - ahead))?..)?;
    // Behind a colon a comma does not end what is a bore's own.
    let named = ahead.checked_sub(1).and_then(|at| first.get(at)).is_some_and(|word| word.ends_with(':'));
    let ends: &[char] = if named { &['.', ';'] } else { &ENDS };
    let behind = tail.iter().position(|word| word.ends_with(ends)).map_or(0, |at| tail.len() - at - 1);
    let own = |words: &Vec<&str>| -> Option<String> {
        let own = words.get(ahead..words.len().checked_sub(behind)?)?.join(" ");
        Some(own.trim_end_matches(ENDS).to_owned())
    };
    let owns: Vec<String> = each.iter().map(own).collect::<Option<_>>()?;
    let end = first.get(..first.len() - behind)?.last().and_then(|word| word.chars().last());
    let end = end.filter(|c| ENDS.contains(c)).map(String::from).unwrap_or_default();
    let mut common: Vec<String> = first.get(..ahead)?.iter().map(|&word| word.to_owned()).collect();
    common.push(format!("{EACH}{end}"));
    common.extend(first.get(first.len() - behind..)?.iter().map(|&word| word.to_owned()));
    Some((common.join(" "), owns))
}

#[cfg(test)]
mod tests {
    use super::apart;

    #[test]
    fn what_all_bores_have_in_common_is_said_once() {
        let one = "steps from old wall to new: bore moves 0.111 mm outwards; 0.75 mm on that side, 0.52 mm opposite. If it bites \
                   elsewhere STOP";
        let other = "steps from old wall to new: bore moves 0.1 mm outwards, 0.02 mm forwards; 0.80 mm on that side, 0.52 mm opposite. If \
                     it bites elsewhere STOP";
        let (common, own) = apart(&[one, other]).unwrap();
        assert_eq!(common, "steps from old wall to new: each as beside it. If it bites elsewhere STOP");
        assert_eq!(own[0], "bore moves 0.111 mm outwards; 0.75 mm on that side, 0.52 mm opposite");
        assert_eq!(
            own[1],
            "bore moves 0.1 mm outwards, 0.02 mm forwards; 0.80 mm on that side, 0.52 mm opposite"
        );
        let (common, own) = apart(&["size 1 within 2, 3 depths", "size 3 within 2, 3 depths"]).unwrap();
        assert_eq!((common.as_str(), own[1].as_str()), ("each as beside it, 3 depths", "size 3 within 2"));
    }

    #[test]
    fn words_that_are_alike_or_have_no_end_in_common_are_told_as_they_are() {
        assert_eq!(apart(&["the same", "the same"]), None);
        assert_eq!(apart(&["alone"]), None);
        let (common, own) = apart(&["gauge it", "look at it"]).unwrap();
        assert_eq!(
            (common.as_str(), own),
            ("each as beside it", vec!["gauge it".to_owned(), "look at it".to_owned()])
        );
    }
}
