//! The lines of a hatched area, worked out here so that every device draws the same.

use kurbo::{BezPath, Line, PathEl, Point, Vec2};

use super::figure::CURVE_MM;

/// More lines than this no figure has; a spacing that asks for them is a fault, and draws nothing.
const MOST_LINES: f64 = 2000.0;

/// Lines at a slope across an area, as far apart as told. They run through the same places in every area, so
/// that neighbours with one hatching read as one.
pub(crate) fn lines(path: &BezPath, slope_deg: f64, apart_mm: f64) -> Vec<Line> {
    let along = Vec2::from_angle(-slope_deg.to_radians());
    let across = Vec2::new(-along.y, along.x);
    let edges: Vec<[Vec2; 2]> = edges(path)
        .iter()
        .map(|edge| edge.map(|p| Vec2::new(p.to_vec2().dot(along), p.to_vec2().dot(across))))
        .collect();
    let heights = || edges.iter().flatten().map(|p| p.y);
    let (low, high) = (heights().fold(f64::INFINITY, f64::min), heights().fold(f64::NEG_INFINITY, f64::max));
    let first = (low / apart_mm).ceil();
    if !(apart_mm > 0.0 && (high - low) / apart_mm < MOST_LINES && first.is_finite()) {
        return Vec::new();
    }
    let mut made = Vec::new();
    let mut step = 0.0;
    while (first + step) * apart_mm <= high {
        let y = (first + step) * apart_mm;
        step += 1.0;
        // Where the line crosses the outline, and which way the outline runs there.
        let mut crossings: Vec<(f64, i32)> = edges
            .iter()
            .filter(|[a, b]| (a.y > y) != (b.y > y))
            .map(|[a, b]| (a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x), if b.y > a.y { 1 } else { -1 }))
            .collect();
        crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut winds = 0;
        for pair in crossings.windows(2) {
            winds += pair[0].1;
            if winds != 0 && pair[1].0 > pair[0].0 {
                let [from, to] = [pair[0].0, pair[1].0].map(|x| (along * x + across * y).to_point());
                made.push(Line::new(from, to));
            }
        }
    }
    made
}

/// An outline's straight edges, every ring closed.
fn edges(path: &BezPath) -> Vec<[Point; 2]> {
    let mut edges = Vec::new();
    let (mut start, mut here) = (Point::ZERO, Point::ZERO);
    let close = |here: Point, start: Point, edges: &mut Vec<[Point; 2]>| {
        if here != start {
            edges.push([here, start]);
        }
    };
    kurbo::flatten(path, CURVE_MM, |element| match element {
        PathEl::MoveTo(to) => {
            close(here, start, &mut edges);
            (start, here) = (to, to);
        }
        PathEl::LineTo(to) => {
            edges.push([here, to]);
            here = to;
        }
        PathEl::ClosePath => {
            close(here, start, &mut edges);
            here = start;
        }
        // Flattened: there are no curves.
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    close(here, start, &mut edges);
    edges
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Circle, Rect, Shape};

    fn length(lines: &[Line]) -> f64 {
        lines.iter().map(|l| (l.p1 - l.p0).hypot()).sum()
    }

    #[test]
    fn lines_cover_an_area_by_its_size_over_their_spacing() {
        let circle = Circle::new((40.0, 30.0), 10.0).to_path(0.001);
        for slope in [0.0, 45.0, -45.0, 90.0] {
            let area = length(&lines(&circle, slope, 0.1)) * 0.1;
            assert!((area - std::f64::consts::PI * 100.0).abs() < 0.5, "{area}");
        }
    }

    #[test]
    fn a_hole_that_runs_the_other_way_is_left_out() {
        let mut path = Rect::new(0.0, 0.0, 10.0, 10.0).to_path(0.1);
        let hole = Rect::new(3.0, 3.0, 7.0, 7.0).to_path(0.1).reverse_subpaths();
        path.extend(hole.iter());
        let area = length(&lines(&path, 45.0, 0.05)) * 0.05;
        assert!((area - 84.0).abs() < 0.5, "{area}");
    }

    #[test]
    fn a_spacing_of_nothing_draws_nothing() {
        let path = Rect::new(0.0, 0.0, 10.0, 10.0).to_path(0.1);
        assert!(lines(&path, 45.0, 0.0).is_empty() && lines(&path, 45.0, f64::NAN).is_empty());
        assert!(lines(&BezPath::new(), 45.0, 1.0).is_empty());
    }
}
