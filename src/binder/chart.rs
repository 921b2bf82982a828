//! Two charts on one page: the distance of each week, and its longest swim without a stop.

use super::Desk;
use super::page::Leaf;
use crate::card::face::{Shaper, Weight};
use crate::card::frame::Frame;
use crate::card::paragraph::{Align, LEADING, Setting, bold, plain, set};
use crate::card::words::filled;
use crate::card::{Ink, Item, Mark, Path, Point, Role, Step};
use crate::measure::Lengths;

/// An axis may have this many steps.
const MOST_STEPS: u64 = 6;

/// A scale in round numbers, from 0 up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Axis {
    /// Between two lines.
    step: u64,
    /// Steps from the bottom to the top.
    steps: u64,
}

impl Axis {
    /// The finest scale of 1, 2 or 5 times a power of ten that holds `most`.
    fn over(most: u64) -> Self {
        let mut step: u64 = 1;
        for factor in [2, 5, 10].iter().cycle() {
            let steps = most.div_ceil(step).max(1);
            if steps <= MOST_STEPS {
                return Axis { step, steps };
            }
            // 1, 2, 5, 10, 20, 50, ...
            step = match factor {
                2 => step.saturating_mul(2),
                5 => step / 2 * 5,
                _ => step.saturating_mul(2),
            };
        }
        Axis { step, steps: 1 }
    }

    /// A scale that holds every value.
    fn of(values: &[Value]) -> Self {
        let most = values.iter().map(|value| value.thirds.div_ceil(3)).max();
        Self::over(most.unwrap_or_default())
    }

    /// How far up `thirds` of the unit stand on a plot this tall.
    fn rise_pt(self, thirds: u64, tall_pt: f32) -> f32 {
        let top = (self.step * self.steps * 3) as f32;
        thirds as f32 / top * tall_pt
    }
}

/// How a value is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shape {
    /// A bar from the ground up.
    Bar,
    /// A dot on a stem.
    Dot,
}

/// One value of a chart.
#[derive(Clone, Copy, Debug)]
struct Value {
    week: u32,
    thirds: u64,
    easier: bool,
}

/// The page of both charts.
pub(super) fn leaf(desk: &mut Desk) -> Leaf {
    let area = desk.binding.area(0);
    let gap_pt = 1.6 * desk.binding.text_pt();
    let tall_pt = (area.height_pt() - gap_pt) / 2.0;
    let words = &desk.words.binder;
    let unit = desk.outline.pool.unit().symbol();
    let title = |pattern: &str| filled(pattern, &[("unit", unit)]);
    let (weekly, longest) = (title(&words.weekly), title(&words.longest));
    let values = |of: &dyn Fn(&super::Week) -> Lengths| -> Vec<Value> {
        let outline = desk.outline;
        let value = |week: &super::Week| Value {
            week: week.number,
            thirds: outline.pool.distance(of(week)).thirds(),
            easier: week.easier,
        };
        outline.weeks.iter().map(value).collect()
    };
    let (weeks, swims) = (values(&super::Week::lengths), values(&super::Week::longest));
    let mut frame = Frame::default();
    let size = (area.width_pt(), tall_pt);
    let left_pt = scale_width_pt(desk, &[&weeks, &swims]) + 0.6 * desk.binding.text_pt();
    frame.put(chart(desk, weekly, &weeks, Shape::Bar, left_pt, size), 0.0, 0.0);
    let second = chart(desk, longest, &swims, Shape::Dot, left_pt, size);
    frame.put(second, 0.0, tall_pt + gap_pt);
    Leaf { running: words.charts.clone(), frame, links: Vec::new() }
}

/// Where a chart's plot stands in its frame.
#[derive(Clone, Copy, Debug)]
struct Plot {
    left_pt: f32,
    right_pt: f32,
    ground_pt: f32,
    tall_pt: f32,
    slots: usize,
}

impl Plot {
    fn slot_pt(self) -> f32 {
        (self.right_pt - self.left_pt) / self.slots.max(1) as f32
    }

    fn centre_pt(self, index: usize) -> f32 {
        self.left_pt + (index as f32 + 0.5) * self.slot_pt()
    }
}

/// The width of the widest number on any of the scales, so that the plots align.
fn scale_width_pt(desk: &mut Desk, charts: &[&[Value]]) -> f32 {
    let size_pt = desk.binding.text_pt();
    let mut widest_pt: f32 = 0.0;
    for values in charts {
        let axis = Axis::of(values);
        let top = desk.words.count(axis.step * axis.steps);
        widest_pt = widest_pt.max(desk.shaper.width_pt(&top, Weight::Regular, size_pt));
    }
    widest_pt
}

fn chart(
    desk: &mut Desk,
    title: String,
    values: &[Value],
    shape: Shape,
    left_pt: f32,
    (width_pt, height_pt): (f32, f32),
) -> Frame {
    let text_pt = desk.binding.text_pt();
    let mut frame = Frame::default();
    let rule_pt = 0.14 * text_pt;
    frame.bar(0.0, 0.0, width_pt, rule_pt, Ink::BLACK);
    let heading = Setting {
        size_pt: text_pt,
        width_pt,
        align: Align::Left,
        role: Role::PartHeading,
        origin: None,
    };
    let told = figure_text(desk, &title, values);
    let heading = set(&mut desk.shaper, &[bold(title)], &heading).frame;
    frame.put(heading, 0.0, rule_pt + 0.16 * text_pt);
    let outlined = shape == Shape::Bar && values.iter().any(|value| value.easier);
    if outlined {
        let note = Setting {
            size_pt: text_pt,
            width_pt,
            align: Align::Left,
            role: Role::Text,
            origin: None,
        };
        let note = set(&mut desk.shaper, &[plain(&*desk.words.binder.outlined)], &note).frame;
        frame.stack(note, 0.0, 0.0);
    }
    let axis = Axis::of(values);
    let top_pt = frame.height_pt + 1.7 * LEADING * text_pt;
    let ground_pt = height_pt - 2.3 * LEADING * text_pt;
    let plot = Plot {
        left_pt,
        right_pt: width_pt,
        ground_pt,
        tall_pt: (ground_pt - top_pt).max(1.0),
        slots: values.len(),
    };
    frame.items.extend(drawn(plot, axis, values, shape, text_pt, told));
    scale(desk, &mut frame, plot, axis);
    weeks(desk, &mut frame, plot, values);
    labels(desk, &mut frame, plot, axis, values, shape);
    frame
}

/// The chart in words.
fn figure_text(desk: &Desk, title: &str, values: &[Value]) -> String {
    let unit = desk.outline.pool.unit();
    let points: Vec<String> = values
        .iter()
        .map(|value| {
            let distance = crate::measure::Distance::from_thirds(value.thirds, unit);
            let (week, number) = (value.week.to_string(), desk.words.number(distance));
            filled(&desk.words.binder.point, &[("week", &week), ("number", &number)])
        })
        .collect();
    filled(&desk.words.binder.chart, &[("title", title), ("points", &points.join("; "))])
}

/// Lines of the scale, then the values: the first of them carries the chart's words.
fn drawn(
    plot: Plot,
    axis: Axis,
    values: &[Value],
    shape: Shape,
    text_pt: f32,
    told: String,
) -> Vec<Item> {
    let artifact = |mark| Item { mark, role: Role::Artifact, origin: None };
    let mut items = Vec::new();
    for step in 1..=axis.steps {
        let y_pt = plot.ground_pt - axis.rise_pt(step * axis.step * 3, plot.tall_pt);
        items.push(artifact(line(plot.left_pt, y_pt, plot.right_pt, y_pt, 0.4, Ink(0x76))));
    }
    let wide_pt = (0.62 * plot.slot_pt()).min(3.2 * text_pt);
    let (mut solid, mut outlined, mut stems) = (Vec::new(), Vec::new(), Vec::new());
    for (index, value) in values.iter().enumerate() {
        let centre_pt = plot.centre_pt(index);
        let rise_pt = axis.rise_pt(value.thirds, plot.tall_pt);
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
                solid.extend(circle(centre_pt, top_pt, radius_pt));
            }
        }
    }
    let mut told = Some(told);
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
    for mark in marks {
        let role = told.take().map_or(Role::Artifact, Role::Figure);
        items.push(Item { mark, role, origin: None });
    }
    let (left_pt, ground_pt) = (plot.left_pt, plot.ground_pt);
    items.push(artifact(line(left_pt, ground_pt, plot.right_pt, ground_pt, 1.2, Ink::BLACK)));
    items
}

/// The stroke of an outlined bar.
const OUTLINE_PT: f32 = 1.2;

fn line(from_x: f32, from_y: f32, to_x: f32, to_y: f32, width_pt: f32, ink: Ink) -> Mark {
    let path = Path(vec![
        Step::Move(Point { x_pt: from_x, y_pt: from_y }),
        Step::Line(Point { x_pt: to_x, y_pt: to_y }),
    ]);
    Mark::Stroke(path, width_pt, ink)
}

fn corners(left_pt: f32, top_pt: f32, width_pt: f32, height_pt: f32) -> Vec<Step> {
    crate::card::frame::rectangle(left_pt, top_pt, width_pt, height_pt).0
}

/// Control points of a quarter circle lie this far along the tangent: 4/3 (sqrt 2 - 1).
const QUARTER: f32 = 0.552_284_8;

fn circle(x_pt: f32, y_pt: f32, radius_pt: f32) -> Vec<Step> {
    let at = |dx: f32, dy: f32| Point { x_pt: x_pt + dx * radius_pt, y_pt: y_pt + dy * radius_pt };
    let k = QUARTER;
    vec![
        Step::Move(at(0.0, -1.0)),
        Step::Curve(at(k, -1.0), at(1.0, -k), at(1.0, 0.0)),
        Step::Curve(at(1.0, k), at(k, 1.0), at(0.0, 1.0)),
        Step::Curve(at(-k, 1.0), at(-1.0, k), at(-1.0, 0.0)),
        Step::Curve(at(-1.0, -k), at(-k, -1.0), at(0.0, -1.0)),
        Step::Close,
    ]
}

/// Puts `text` with the middle of its width at `x_pt` and the bottom of its line at `bottom_pt`;
/// it is for the eye, the figure's words are for the ear.
fn centred(shaper: &mut Shaper, frame: &mut Frame, text: &str, size_pt: f32, at: Point) {
    let width_pt = shaper.width_pt(text, Weight::Regular, size_pt) + 0.01;
    let setting =
        Setting { size_pt, width_pt, align: Align::Left, role: Role::Artifact, origin: None };
    let lines = set(shaper, &[plain(text)], &setting).frame;
    let (left_pt, top_pt) = (at.x_pt - width_pt / 2.0, at.y_pt - LEADING * size_pt);
    // White behind it: no line of the scale runs through a number.
    frame.bar(left_pt, top_pt + 0.15 * size_pt, width_pt, size_pt, Ink(255));
    frame.put(lines, left_pt, top_pt);
}

/// The numbers at the left of the lines.
fn scale(desk: &mut Desk, frame: &mut Frame, plot: Plot, axis: Axis) {
    let size_pt = desk.binding.text_pt();
    let setting = Setting {
        size_pt,
        width_pt: plot.left_pt - 0.6 * size_pt + 0.01,
        align: Align::Right,
        role: Role::Artifact,
        origin: None,
    };
    for step in 0..=axis.steps {
        let y_pt = plot.ground_pt - axis.rise_pt(step * axis.step * 3, plot.tall_pt);
        let number = desk.words.count(step * axis.step);
        let lines = set(&mut desk.shaper, &[plain(number)], &setting).frame;
        // The middle of a figure's height stands on its line.
        frame.put(lines, 0.0, y_pt - 0.6 * size_pt);
    }
}

/// The weeks below the ground, as many of them as have room.
fn weeks(desk: &mut Desk, frame: &mut Frame, plot: Plot, values: &[Value]) {
    let size_pt = desk.binding.text_pt();
    let last = values.last().map_or(0, |value| value.week);
    let widest_pt = desk.shaper.width_pt(&last.to_string(), Weight::Regular, size_pt);
    let every = ((1.5 * widest_pt / plot.slot_pt().max(0.1)).ceil() as usize).max(1);
    let bottom_pt = plot.ground_pt + 1.3 * LEADING * size_pt;
    for (index, value) in values.iter().enumerate().step_by(every) {
        let at = Point { x_pt: plot.centre_pt(index), y_pt: bottom_pt };
        centred(&mut desk.shaper, frame, &value.week.to_string(), size_pt, at);
    }
    let middle_pt = (plot.left_pt + plot.right_pt) / 2.0;
    let at = Point { x_pt: middle_pt, y_pt: bottom_pt + LEADING * size_pt };
    centred(&mut desk.shaper, frame, &desk.words.binder.axis, size_pt, at);
}

/// Each value over its mark, or only the greatest where they would collide.
fn labels(
    desk: &mut Desk,
    frame: &mut Frame,
    plot: Plot,
    axis: Axis,
    values: &[Value],
    shape: Shape,
) {
    let size_pt = desk.binding.text_pt();
    let unit = desk.outline.pool.unit();
    let text = |value: &Value| {
        desk.words.number(crate::measure::Distance::from_thirds(value.thirds, unit))
    };
    let texts: Vec<String> = values.iter().map(text).collect();
    let mut widest_pt: f32 = 0.0;
    for text in &texts {
        widest_pt = widest_pt.max(desk.shaper.width_pt(text, Weight::Regular, size_pt));
    }
    let all = widest_pt + 0.45 * size_pt <= plot.slot_pt();
    let most = values.iter().map(|value| value.thirds).max();
    let first_most = values.iter().position(|value| Some(value.thirds) == most);
    let lift_pt = match shape {
        Shape::Bar => 0.1 * size_pt,
        Shape::Dot => 0.45 * size_pt,
    };
    for (index, (value, text)) in values.iter().zip(&texts).enumerate() {
        if all || Some(index) == first_most {
            let rise_pt = axis.rise_pt(value.thirds, plot.tall_pt);
            let y_pt = plot.ground_pt - rise_pt - lift_pt;
            let half_pt = desk.shaper.width_pt(text, Weight::Regular, size_pt) / 2.0;
            let x_pt = plot.centre_pt(index).min(plot.right_pt - half_pt);
            centred(&mut desk.shaper, frame, text, size_pt, Point { x_pt, y_pt });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_are_in_round_numbers() {
        // The finest of 1, 2, 5 x 10^n in at most six steps, by hand:
        // 1,200 / 200 = 6; 1,201 needs 7 of 200, so 3 of 500; 640 / 200 = 3.2; 7 / 2 = 3.5.
        let cases = [
            (0, 1, 1),
            (6, 1, 6),
            (7, 2, 4),
            (640, 200, 4),
            (1200, 200, 6),
            (1201, 500, 3),
            (3200, 1000, 4),
            (15_000, 5000, 3),
        ];
        for (most, step, steps) in cases {
            assert_eq!(Axis::over(most), Axis { step, steps }, "{most}");
        }
    }

    fn bars(values: &[Value], shape: Shape) -> Vec<Item> {
        let plot =
            Plot { left_pt: 40.0, right_pt: 340.0, ground_pt: 200.0, tall_pt: 150.0, slots: 3 };
        drawn(plot, Axis { step: 500, steps: 3 }, values, shape, 10.0, "told".into())
    }

    fn value(week: u32, metres: u64, easier: bool) -> Value {
        Value { week, thirds: metres * 3, easier }
    }

    #[test]
    fn bars_are_as_tall_as_their_sums() {
        // 1,500 is 150 pt tall: 1,000 is 100 pt. Slots of 100 pt, bars of 32 pt (3.2 x 10):
        // the first stands from 40 + 50 - 16 = 74 to 106.
        let items = bars(&[value(1, 1000, false), value(2, 1500, false)], Shape::Bar);
        let told = items.iter().find(|item| item.role == Role::Figure("told".into()));
        let Some(Item { mark: Mark::Fill(path, _), .. }) = told else { panic!("no bars") };
        let at = |x_pt, y_pt| Point { x_pt, y_pt };
        assert_eq!(path.0[0], Step::Move(at(74.0, 100.0)));
        assert_eq!(path.0[2], Step::Line(at(106.0, 200.0)));
        assert_eq!(path.0[5], Step::Move(at(174.0, 50.0)));
    }

    #[test]
    fn an_easier_week_is_outlined_and_one_item_is_told() {
        let items = bars(&[value(1, 1000, false), value(2, 500, true)], Shape::Bar);
        let told = items.iter().filter(|item| item.role != Role::Artifact).count();
        assert_eq!(told, 1);
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
