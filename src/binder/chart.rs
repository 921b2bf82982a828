//! Two charts on one page: the distance of each week, and its longest swim without a stop.

mod axis;
mod marks;

use super::page::PageBody;
use super::{BinderWeek, Bindery};
use crate::drawing::frame::Frame;
use crate::drawing::{Ink, Point, Role};
use crate::measure::Distance;
use crate::typeset::Typesetter;
use crate::typeset::face::Weight;
use crate::typeset::paragraph::{Align, HAIR_PT, LEADING, Setting, bold, plain, set_once};
use crate::words::filled;
use axis::Axis;
use marks::drawn;

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
    sixths: u64,
    easier: bool,
}

/// The page of both charts.
pub(super) fn page_body(bindery: &mut Bindery) -> PageBody {
    let area = bindery.binding.area(0);
    let gap_pt = 1.6 * bindery.binding.text_pt();
    let tall_pt = (area.height_pt() - gap_pt) / 2.0;
    let words = &bindery.words.binder;
    let unit = bindery.outline.pool.unit().symbol();
    let title = |pattern: &str| filled(pattern, &[("unit", unit)]);
    let (weekly, longest) = (title(&words.weekly), title(&words.longest));
    let pool = bindery.outline.pool;
    let values = |of: &dyn Fn(&BinderWeek) -> Distance| -> Vec<Value> {
        let outline = bindery.outline;
        let value = |week: &BinderWeek| Value {
            week: week.number,
            sixths: of(week).sixths(),
            easier: week.easier,
        };
        outline.weeks.iter().map(value).collect()
    };
    let (weeks, swims) =
        (values(&|week| week.distance(pool)), values(&|week| pool.distance(week.longest())));
    let mut frame = Frame::default();
    let size = (area.width_pt(), tall_pt);
    let left_pt = scale_width_pt(bindery, &[&weeks, &swims]) + 0.6 * bindery.binding.text_pt();
    frame.put(chart(bindery, weekly, &weeks, Shape::Bar, left_pt, size), 0.0, 0.0);
    let second = chart(bindery, longest, &swims, Shape::Dot, left_pt, size);
    frame.put(second, 0.0, tall_pt + gap_pt);
    PageBody { running: words.charts.clone(), frame, links: Vec::new() }
}

/// Where a chart's plot is in its frame.
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
fn scale_width_pt(bindery: &mut Bindery, charts: &[&[Value]]) -> f32 {
    let size_pt = bindery.binding.text_pt();
    let mut widest_pt: f32 = 0.0;
    for values in charts {
        let axis = Axis::of(values);
        let top = bindery.words.count(axis.step * axis.steps);
        widest_pt = widest_pt.max(bindery.typesetter.width_pt(&top, Weight::Regular, size_pt));
    }
    widest_pt
}

fn chart(
    bindery: &mut Bindery,
    title: String,
    values: &[Value],
    shape: Shape,
    left_pt: f32,
    (width_pt, height_pt): (f32, f32),
) -> Frame {
    let text_pt = bindery.binding.text_pt();
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
    let words = figure_text(bindery, &title, values);
    let heading = set_once(&mut bindery.typesetter, &[bold(title)], &heading).frame;
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
        let note =
            set_once(&mut bindery.typesetter, &[plain(&*bindery.words.binder.outlined)], &note)
                .frame;
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
    frame.items.extend(drawn(plot, axis, values, shape, text_pt, words));
    scale(bindery, &mut frame, plot, axis);
    weeks(bindery, &mut frame, plot, values);
    labels(bindery, &mut frame, plot, axis, values, shape);
    frame
}

/// The chart in words.
fn figure_text(bindery: &Bindery, title: &str, values: &[Value]) -> String {
    let unit = bindery.outline.pool.unit();
    let points: Vec<String> = values
        .iter()
        .map(|value| {
            let distance = Distance::from_sixths(value.sixths, unit);
            let (week, number) = (value.week.to_string(), bindery.words.number(distance));
            filled(&bindery.words.binder.point, &[("week", &week), ("number", &number)])
        })
        .collect();
    filled(&bindery.words.binder.chart, &[("title", title), ("points", &points.join("; "))])
}

/// Puts `text` with the middle of its width at `x_pt` and the bottom of its line at `bottom_pt`;
/// it is for the eye, the figure's words are for the ear.
fn centred(typesetter: &mut Typesetter, frame: &mut Frame, text: &str, size_pt: f32, at: Point) {
    let width_pt = typesetter.width_pt(text, Weight::Regular, size_pt) + HAIR_PT;
    let setting =
        Setting { size_pt, width_pt, align: Align::Left, role: Role::Artifact, origin: None };
    let lines = set_once(typesetter, &[plain(text)], &setting).frame;
    let (left_pt, top_pt) = (at.x_pt - width_pt / 2.0, at.y_pt - LEADING * size_pt);
    // White behind and beside it: no line of the scale runs through or up to a number.
    let gap_pt = 0.3 * size_pt;
    let wide_pt = width_pt + 2.0 * gap_pt;
    frame.bar(left_pt - gap_pt, top_pt + 0.15 * size_pt, wide_pt, size_pt, Ink(255));
    frame.put(lines, left_pt, top_pt);
}

/// The numbers at the left of the lines.
fn scale(bindery: &mut Bindery, frame: &mut Frame, plot: Plot, axis: Axis) {
    let size_pt = bindery.binding.text_pt();
    let width_pt = plot.left_pt - 0.6 * size_pt;
    let setting = Setting::in_column(size_pt, width_pt, Align::Right, Role::Artifact);
    for step in 0..=axis.steps {
        let y_pt = plot.ground_pt - axis.rise_pt(step * axis.step * 6, plot.tall_pt);
        let number = bindery.words.count(step * axis.step);
        let lines = set_once(&mut bindery.typesetter, &[plain(number)], &setting).frame;
        // The middle of a figure's height is on its line.
        frame.put(lines, 0.0, y_pt - 0.6 * size_pt);
    }
}

/// The weeks below the ground, as many of them as have room.
fn weeks(bindery: &mut Bindery, frame: &mut Frame, plot: Plot, values: &[Value]) {
    let size_pt = bindery.binding.text_pt();
    let last = values.last().map_or(0, |value| value.week);
    let widest_pt = bindery.typesetter.width_pt(&last.to_string(), Weight::Regular, size_pt);
    let every = ((1.5 * widest_pt / plot.slot_pt().max(0.1)).ceil() as usize).max(1);
    let bottom_pt = plot.ground_pt + 1.3 * LEADING * size_pt;
    for (index, value) in values.iter().enumerate().step_by(every) {
        let at = Point { x_pt: plot.centre_pt(index), y_pt: bottom_pt };
        centred(&mut bindery.typesetter, frame, &value.week.to_string(), size_pt, at);
    }
    let middle_pt = (plot.left_pt + plot.right_pt) / 2.0;
    let at = Point { x_pt: middle_pt, y_pt: bottom_pt + LEADING * size_pt };
    centred(&mut bindery.typesetter, frame, &bindery.words.binder.axis, size_pt, at);
}

/// Each value over its mark, or only the greatest where they would collide.
fn labels(
    bindery: &mut Bindery,
    frame: &mut Frame,
    plot: Plot,
    axis: Axis,
    values: &[Value],
    shape: Shape,
) {
    let size_pt = bindery.binding.text_pt();
    let unit = bindery.outline.pool.unit();
    let text = |value: &Value| bindery.words.number(Distance::from_sixths(value.sixths, unit));
    let texts: Vec<String> = values.iter().map(text).collect();
    let mut widest_pt: f32 = 0.0;
    for text in &texts {
        widest_pt = widest_pt.max(bindery.typesetter.width_pt(text, Weight::Regular, size_pt));
    }
    let all = widest_pt + 0.45 * size_pt <= plot.slot_pt();
    let most = values.iter().map(|value| value.sixths).max();
    let first_most = values.iter().position(|value| Some(value.sixths) == most);
    let lift_pt = match shape {
        Shape::Bar => 0.1 * size_pt,
        Shape::Dot => 0.45 * size_pt,
    };
    for (index, (value, text)) in values.iter().zip(&texts).enumerate() {
        if all || Some(index) == first_most {
            let rise_pt = axis.rise_pt(value.sixths, plot.tall_pt);
            let y_pt = plot.ground_pt - rise_pt - lift_pt;
            let half_pt = bindery.typesetter.width_pt(text, Weight::Regular, size_pt) / 2.0;
            let x_pt = plot.centre_pt(index).min(plot.right_pt - half_pt);
            centred(&mut bindery.typesetter, frame, text, size_pt, Point { x_pt, y_pt });
        }
    }
}
