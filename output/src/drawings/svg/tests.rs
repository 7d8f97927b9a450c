use kurbo::{Circle, Rect, Shape as _};
use proptest::prelude::*;
use std::sync::LazyLock;

use super::*;
use crate::drawings::figure::Pen;
use crate::paper::canvas::Align;
use crate::paper::text::{Fonts, Weight};

static FONTS: LazyLock<&Fonts> = LazyLock::new(|| Fonts::load().unwrap());

/// Parses it and refuses whatever is not a plain shape.
fn plain(text: &str) -> roxmltree::Document<'_> {
    let document = roxmltree::Document::parse(text).unwrap_or_else(|e| panic!("{e}\n{text}"));
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let name = node.tag_name().name();
        assert!(["svg", "title", "desc", "rect", "path", "defs", "g", "use"].contains(&name), "{name}");
        for attribute in node.attributes() {
            let (name, value) = (attribute.name(), attribute.value());
            assert!(!name.starts_with("on") && name != "style", "{name}");
            assert!(name != "href" || value.starts_with('#'), "{name} {value}");
            assert!(!value.contains("url(") && !value.contains("://"), "{name} {value}");
        }
    }
    document
}

#[test]
fn a_circle_and_a_text_come_back_where_they_were_put() {
    let mut pen = Pen::new(&FONTS, "round", 60.0, 40.0);
    pen.circle(Point::new(30.0, 20.0), 10.0, 0.5, Dash::Dashed);
    pen.text(Point::new(30.0, 20.0), Align::Middle, (Weight::Bold, 12.0), "5 & 7 < 9");
    let text = svg(&pen.figure, &FONTS).unwrap();
    let document = plain(&text);
    assert_eq!(document.root_element().attribute("width"), Some("60mm"));
    assert_eq!(document.root_element().attribute("viewBox"), Some("0 0 60 40"));
    let path = document.descendants().find(|n| n.attribute("stroke-dasharray").is_some()).unwrap();
    assert_eq!(path.attribute("stroke-dasharray"), Some("1.411 1.058"));
    let drawn = BezPath::from_svg(path.attribute("d").unwrap()).unwrap().bounding_box();
    let expected = Circle::new((30.0, 20.0), 10.0).bounding_box();
    assert!((drawn.x0 - expected.x0).abs() < 0.01 && (drawn.y1 - expected.y1).abs() < 0.01, "{drawn:?}");
    let words = document.descendants().find(|n| n.tag_name().name() == "g").unwrap();
    assert_eq!(words.attribute("aria-label"), Some("5 & 7 < 9"));
    let root = document.root_element();
    let named: Vec<&str> = root.attribute("aria-labelledby").unwrap().split(' ').collect();
    let ids: Vec<&str> = document.descendants().filter_map(|n| n.attribute("id")).collect();
    assert!(ids.starts_with(&named) && root.attribute("role") == Some("img"), "{ids:?}");
}

#[test]
fn hatching_is_lines_and_never_a_pattern_that_is_referred_to() {
    let mut pen = Pen::new(&FONTS, "hatched", 60.0, 40.0);
    let filling = Filling::Hatched { slope_deg: 45.0, apart_mm: 2.0, width_mm: 0.1 };
    pen.area(Rect::new(10.0, 10.0, 30.0, 30.0).to_path(0.1), filling);
    let text = svg(&pen.figure, &FONTS).unwrap();
    let document = plain(&text);
    let path = document.descendants().find(|n| n.tag_name().name() == "path").unwrap();
    // A square of 20 has a diagonal of 28.3, so 14 lines of 2 mm spacing.
    assert_eq!(path.attribute("d").unwrap().matches('M').count(), 14);
}

#[test]
fn a_coordinate_that_is_none_is_a_fault_and_not_a_file() {
    for at in [f64::NAN, f64::INFINITY, 1e9] {
        let mut pen = Pen::new(&FONTS, "off", 60.0, 40.0);
        pen.line(Point::ORIGIN, Point::new(at, 0.0), 0.5, Dash::Solid);
        assert!(matches!(svg(&pen.figure, &FONTS), Err(OutputError::Drawing)), "{at}");
    }
}

proptest! {
    #[test]
    fn whatever_a_shop_writes_is_text_and_never_markup(word in any::<String>(), tail in "[<>&\"'\u{0}-\u{1f}\\]\\[!-]{0,12}") {
        let word = format!("{word}{tail}<script>x</script>]]><!--{tail}");
        let mut pen = Pen::new(&FONTS, &word, 60.0, 40.0);
        pen.text(Point::new(1.0, 5.0), Align::Left, (Weight::Plain, 10.0), &word);
        let text = svg(&pen.figure, &FONTS).unwrap();
        let document = plain(&text);
        let words = document.descendants().find(|n| n.tag_name().name() == "g").unwrap();
        let cleaned = FONTS.clean(&word);
        prop_assert_eq!(words.attribute("aria-label"), Some(cleaned.as_str()));
        let text = within(&pen.figure).unwrap();
        let document = roxmltree::Document::parse(&text).unwrap();
        let words = document.descendants().find(|n| n.tag_name().name() == "text").unwrap();
        prop_assert_eq!(words.text(), Some(cleaned.as_str()));
    }
}

#[test]
fn a_number_is_told_to_a_thousandth_and_no_longer_than_it_must_be() {
    for (value, expected) in [
        (0.0, "0"),
        (-0.0, "0"),
        (-0.0004, "0"),
        (12.0, "12"),
        (0.05, "0.05"),
        (-0.007, "-0.007"),
        (1.2346, "1.235"),
        (-1_999.999_6, "-2000"),
        (1410.120, "1410.12"),
    ] {
        assert_eq!(number(value).unwrap(), expected);
    }
    assert!(number(f64::NAN).is_err() && number(2000.1).is_err());
}

proptest! {
    #[test]
    fn a_number_reads_back_as_what_it_was(value in -2000.0..2000.0_f64) {
        let told = number(value).unwrap();
        prop_assert!((told.parse::<f64>().unwrap() - value).abs() <= 0.0005 + 1e-9, "{told}");
    }
}
