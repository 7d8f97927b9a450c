//! `find` and `trend` on a narrow terminal.

use crate::common::{command, ended};
use crate::learning::Shop;

#[test]
fn find_and_trend_keep_to_sixty_columns() {
    let shop = Shop::with(&[0.10, 0.12, 0.08, 0.11, 0.09]);
    for words in [["find", "dunlin"], ["trend", "dunlin"]] {
        let mut asked = command();
        asked.env("COLUMNS", "60").args(words).arg("--archive").arg(shop.archive());
        let run = ended(asked.arg("--cache").arg(shop.cache()));
        assert_eq!(run.status, Some(0), "{}", run.err);
        assert!(run.out.lines().count() > 4, "{}", run.out);
        let wide: Vec<&str> = run.out.lines().filter(|l| l.chars().count() > 60).collect();
        assert!(wide.is_empty(), "{wide:#?}");
    }
}
