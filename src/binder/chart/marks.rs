//! The values of a chart as marks.

use super::axis::Axis;
use super::{Plot, Shape, Value};
use crate::drawing::frame::{circle, rectangle};
use crate::drawing::{Ink, Item, Mark, Path, Point, Role, Step};

/// Lines of the scale, then the values, which together are the figure that the words describe.
pub(super) fn drawn(
    plot: Plot,
    axis: Axis,
    values: &[Value],
    shape: Shape,
    text_pt: f32,
    words: String,
) -> Vec<Item> {
    let artifact = |mark| Item { mark, role: Role::Artifact, origin: None };
    let mut items = Vec::new();
    for step in 1..=axis.steps {
        let y_pt = plot.ground_pt - axis.rise_pt(step * axis.step * 6, plot.tall_pt);
        items.push(artifact(line(plot.left_pt, y_pt, plot.right_pt, y_pt, 0.4, Ink(0x76))));
    }
    let wide_pt = (0.62 * plot.slot_pt()).min(3.2 * text_pt);
    let (mut solid, mut outlined, mut stems) = (Vec::new(), Vec::new(), Vec::new());
    for (index, value) in values.iter().enumerate() {
        let centre_pt = plot.centre_pt(index);
        let rise_pt = axis.rise_pt(value.sixths, plot.tall_pt);
        let (left_pt, top_pt) = (centre_pt - wide_pt / 2.0, plot.ground_pt - rise_pt);
        match (shape, value.easier) {
            (Shape::Bar, false) => solid.extend(corners(left_pt, top_pt, wide_pt, rise_pt)),
            (Shape::Bar, true) => {
                // The stroke stays inside the bar.
                let inset_pt = OUTLINE_PT / 2.0;
                let inner = (wide_pt - OUTLINE_PT, (rise_pt - OUTLINE_PT).max(0.0));
                outlined.extend(corners(left_pt + inset_pt, top_pt + inset_pt, inner.0, inner.1));
            }
            (Shape::Dot, _) => {
                stems.extend([
                    Step::Move(Point { x_pt: centre_pt, y_pt: plot.ground_pt }),
                    Step::Line(Point { x_pt: centre_pt, y_pt: top_pt }),
                ]);
                let radius_pt = (0.36 * text_pt).min(0.3 * plot.slot_pt());
                let centre = Point { x_pt: centre_pt, y_pt: top_pt };
                solid.extend(circle(centre, radius_pt).0);
            }
        }
    }
    let mut marks = Vec::new();
    if !solid.is_empty() {
        marks.push(Mark::Fill(Path(solid), Ink::BLACK));
    }
    if !outlined.is_empty() {
        // White inside: the lines of the scale do not run through.
        marks.push(Mark::Fill(Path(outlined.clone()), Ink(255)));
        marks.push(Mark::Stroke(Path(outlined), OUTLINE_PT, Ink::BLACK));
    }
    if !stems.is_empty() {
        marks.push(Mark::Stroke(Path(stems), 1.0, Ink::BLACK));
    }
    // One figure: what of it were an artifact could be drawn before the rest.
    let role = Role::Figure(words);
    items.extend(marks.into_iter().map(|mark| Item { mark, role: role.clone(), origin: None }));
    let (left_pt, ground_pt) = (plot.left_pt, plot.ground_pt);
    items.push(artifact(line(left_pt, ground_pt, plot.right_pt, ground_pt, 1.2, Ink::BLACK)));
    items
}

/// The stroke of an outlined bar.
const OUTLINE_PT: f32 = 1.2;

fn line(from_x: f32, from_y: f32, to_x: f32, to_y: f32, width_pt: f32, ink: Ink) -> Mark {
    let (from, to) = (Point { x_pt: from_x, y_pt: from_y }, Point { x_pt: to_x, y_pt: to_y });
    Mark::line(from, to, width_pt, ink)
}

fn corners(left_pt: f32, top_pt: f32, width_pt: f32, height_pt: f32) -> Vec<Step> {
    rectangle(left_pt, top_pt, width_pt, height_pt).0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bars(values: &[Value], shape: Shape) -> Vec<Item> {
        let plot =
            Plot { left_pt: 40.0, right_pt: 340.0, ground_pt: 200.0, tall_pt: 150.0, slots: 3 };
        drawn(plot, Axis { step: 500, steps: 3 }, values, shape, 10.0, "in words".into())
    }

    fn value(week: u32, metres: u64, easier: bool) -> Value {
        Value { week, sixths: metres * 6, easier }
    }

    #[test]
    fn bars_are_as_tall_as_their_sums() {
        // 1,500 is 150 pt tall: 1,000 is 100 pt. Slots of 100 pt, bars of 32 pt (3.2 x 10):
        // the first is from 40 + 50 - 16 = 74 to 106.
        let items = bars(&[value(1, 1000, false), value(2, 1500, false)], Shape::Bar);
        let figure = items.iter().find(|item| item.role == Role::Figure("in words".into()));
        let Some(Item { mark: Mark::Fill(path, _), .. }) = figure else { panic!("no bars") };
        let at = |x_pt, y_pt| Point { x_pt, y_pt };
        assert_eq!(path.0[0], Step::Move(at(74.0, 100.0)));
        assert_eq!(path.0[2], Step::Line(at(106.0, 200.0)));
        assert_eq!(path.0[5], Step::Move(at(174.0, 50.0)));
    }

    #[test]
    fn an_easier_week_is_outlined_and_all_weeks_are_one_figure() {
        let items = bars(&[value(1, 1000, false), value(2, 500, true)], Shape::Bar);
        let figure = Role::Figure("in words".into());
        let first = items.iter().position(|item| item.role == figure).expect("a figure");
        let figures = items[first..].iter().take_while(|item| item.role == figure).count();
        // Solid bars, the white inside the outlines, and the outlines over it.
        assert_eq!(figures, 3);
        assert!(items[first + 3..].iter().all(|item| item.role == Role::Artifact));
        let outline = items.iter().find_map(|item| match &item.mark {
            Mark::Stroke(path, width_pt, _) if path.0.len() == 5 => Some((path, *width_pt)),
            _ => None,
        });
        let (path, width_pt) = outline.expect("an outlined bar");
        // 500 of 1,500 is 50 pt tall: its top edge, stroke and all, is at 150.
        let Step::Move(corner) = path.0[0] else { panic!("no corner") };
        assert!((corner.y_pt - width_pt / 2.0 - 150.0).abs() < 0.001);
    }

    #[test]
    fn a_dot_stands_at_its_value() {
        // 750 of 1,500 on 150 pt: 75 pt above the ground at 200.
        let items = bars(&[value(1, 750, false)], Shape::Dot);
        let stem = items.iter().find_map(|item| match &item.mark {
            Mark::Stroke(path, width_pt, _) if *width_pt == 1.0 => path.0.get(1),
            _ => None,
        });
        assert_eq!(stem, Some(&Step::Line(Point { x_pt: 90.0, y_pt: 125.0 })));
    }
}
