//! What holds for every card, over sessions of every size.

use std::sync::LazyLock;

use crate::support::extreme;
use crate::support::plans::{self, Sets};
use deckcard::card::{Composed, Extras, Fault, compose};
use deckcard::drawing::{Area, Card, Font, Mark, Path, Point, Role, Step};
use deckcard::plan::{LinePlan, Plan, SetPlan};
use deckcard::session::words::{Effort, Mode, PartKind, Pattern, Stroke};
use deckcard::stock::Stock;
use deckcard::typeset::face;
use deckcard::words::Words;

fn stocks() -> Vec<Stock> {
    Stock::names().map(|name| Stock::named(name).expect("listed").expect("reads")).collect()
}

pub fn composed(plan: &Plan, extras: &Extras, stock: &Stock) -> Composed {
    compose(plan, extras, stock, &Words::named("en").expect("listed").expect("reads"))
}

/// Numbers that look like chance and are the same every time.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, below: u32) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        ((self.0 >> 33) % u64::from(below)) as u32
    }

    fn words(&mut self, most: u32) -> String {
        const WORDS: [&str; 8] =
            ["long", "kick", "from", "hip,", "Überwasserzug", "1 ½ s", "reach/roll", "été"];
        let count = 1 + self.roll(most);
        let words = (0..count).map(|_| WORDS[self.roll(8) as usize]).collect::<Vec<_>>();
        words.join(" ")
    }

    fn set(&mut self) -> Sets {
        let mut set = plans::swim(1 + self.roll(16), 1 + self.roll(8));
        set = match self.roll(4) {
            0 => set.on(60 + self.roll(20) * 5, &[60, 45, 30, 15]),
            1 => set.rest(5 + self.roll(100)).lane_leaves_on(95),
            _ => set.rest(self.roll(3) * 15),
        };
        if self.roll(2) == 0 {
            set = set.cue(&self.words(12));
        }
        if self.roll(3) == 0 {
            set = set.effort(Effort::Strong).pattern(Pattern::NegativeSplit);
        }
        if self.roll(4) == 0 {
            set = set.stroke(Stroke::Breast).mode(Mode::Drill).gear("fins");
        }
        if self.roll(4) == 0 {
            set = set.strokes(deckcard::plan::StrokePlan::Count);
        }
        set
    }

    fn lines(&mut self, most: u32, depth: u32) -> Vec<LinePlan> {
        let count = 1 + self.roll(most);
        let line = |_| match self.roll(5) {
            0 if depth < 2 => plans::rounds(2, self.lines(4, depth + 1)),
            _ => self.set().into(),
        };
        (0..count).map(line).collect()
    }

    fn plan(&mut self) -> Plan {
        let kinds = [PartKind::WarmUp, PartKind::MainSet, PartKind::CoolDown];
        let sets = 1 + self.roll(9);
        let parts = kinds.map(|kind| plans::part(kind, self.lines(sets, 0)));
        plans::session(&self.words(5), &self.words(6), plans::metres(25), parts.to_vec())
    }
}

fn sessions() -> Vec<(String, Plan, Extras)> {
    let mut sessions: Vec<_> = plans::all()
        .into_iter()
        .map(|(name, plan)| (name.to_owned(), plan, Extras::default()))
        .collect();
    let mut dice = Dice(20270112);
    let generated = |index| (format!("generated {index}"), dice.plan(), Extras::default());
    sessions.extend((0..30).map(generated));
    sessions.extend(extreme::all());
    sessions
}

struct Case {
    name: String,
    stock: Stock,
    plan: Plan,
    composed: Composed,
}

/// Every session on every stock, composed once for all the laws.
fn cases() -> &'static [Case] {
    static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
        let mut cases = Vec::new();
        for stock in stocks() {
            for (name, plan, extras) in sessions() {
                let composed = composed(&plan, &extras, &stock);
                let name = format!("{name} on {}", stock.name);
                cases.push(Case { name, stock: stock.clone(), plan, composed });
            }
        }
        cases
    });
    &CASES
}

fn for_each_card(mut law: impl FnMut(&str, &Stock, &Plan, &Card)) {
    for case in cases() {
        for card in &case.composed.cards {
            law(&case.name, &case.stock, &case.plan, card);
        }
    }
}

pub fn box_of_path(path: &Path, grow_pt: f32) -> Area {
    let mut area =
        Area { left_pt: f32::MAX, top_pt: f32::MAX, right_pt: f32::MIN, bottom_pt: f32::MIN };
    let mut see = |p: Point| {
        area.left_pt = area.left_pt.min(p.x_pt - grow_pt);
        area.top_pt = area.top_pt.min(p.y_pt - grow_pt);
        area.right_pt = area.right_pt.max(p.x_pt + grow_pt);
        area.bottom_pt = area.bottom_pt.max(p.y_pt + grow_pt);
    };
    for step in &path.0 {
        match step {
            Step::Move(p) | Step::Line(p) | Step::Curve(_, _, p) => see(*p),
            Step::Close => {}
        }
    }
    area
}

pub fn box_of(mark: &Mark) -> Option<Area> {
    match mark {
        Mark::Text(run) => face::ink_box(run).map(|(left_pt, top_pt, right_pt, bottom_pt)| Area {
            left_pt,
            top_pt,
            right_pt,
            bottom_pt,
        }),
        Mark::Fill(path, _) => Some(box_of_path(path, 0.0)),
        Mark::Stroke(path, width_pt, _) => Some(box_of_path(path, width_pt / 2.0)),
        Mark::Picture(at, size, _) => Some(Area {
            left_pt: at.x_pt,
            top_pt: at.y_pt,
            right_pt: at.x_pt + size.width_pt,
            bottom_pt: at.y_pt + size.height_pt,
        }),
        Mark::Dial(at, width_pt, _) => Some(Area {
            left_pt: at.x_pt,
            top_pt: at.y_pt,
            right_pt: at.x_pt + width_pt,
            bottom_pt: at.y_pt + width_pt,
        }),
    }
}

#[test]
fn everything_is_inside_the_safe_area() {
    for_each_card(|name, stock, _, card| {
        // A letter's side bearing may be negative by a fraction of a point.
        let (safe, hair) = (stock.safe(), 0.6);
        for item in card.items() {
            let Some(area) = box_of(&item.mark) else { continue };
            let inside = area.left_pt >= safe.left_pt - hair
                && area.top_pt >= safe.top_pt - hair
                && area.right_pt <= safe.right_pt + hair
                && area.bottom_pt <= safe.bottom_pt + hair;
            assert!(inside, "{name}: {:?} outside {safe:?}: {area:?}", item.mark);
        }
    });
}

#[test]
fn nothing_overlaps_text() {
    for_each_card(|name, _, _, card| {
        let boxes: Vec<Option<Area>> = card.items().iter().map(|item| box_of(&item.mark)).collect();
        for (index, item) in card.items().iter().enumerate() {
            let (Mark::Text(run), Some(a)) = (&item.mark, boxes[index]) else { continue };
            for (other_index, other) in card.items().iter().enumerate() {
                let Some(b) = boxes[other_index].filter(|_| other_index != index) else {
                    continue;
                };
                let apart = a.right_pt <= b.left_pt + 0.3
                    || b.right_pt <= a.left_pt + 0.3
                    || a.bottom_pt <= b.top_pt + 0.05
                    || b.bottom_pt <= a.top_pt + 0.05;
                assert!(apart, "{name}: {:?} overlaps {:?}", run.text, other.mark);
            }
        }
    });
}

fn sets(lines: &[LinePlan]) -> Vec<SetPlan> {
    let of_line = |line: &LinePlan| match line {
        LinePlan::Set(set) => vec![set.clone()],
        LinePlan::Rounds { lines, .. } => sets(lines),
        LinePlan::Activity { .. } | LinePlan::Remark(_) => Vec::new(),
    };
    lines.iter().flat_map(of_line).collect()
}

fn squeezed(text: &str) -> String {
    face::composed(text).split_whitespace().collect()
}

#[test]
fn every_word_of_the_plan_is_on_some_card() {
    for Case { name, plan, composed, .. } in cases() {
        let lost = |fault: &Fault| !matches!(fault, Fault::BelowReadingSize { .. });
        assert!(!composed.faults.iter().any(lost), "{name}: {:?}", composed.faults);
        let text: String = composed
            .cards
            .iter()
            .flat_map(|card| card.items())
            .filter_map(|item| match &item.mark {
                Mark::Text(run) => Some(squeezed(&run.text)),
                _ => None,
            })
            .collect();
        let mut from = 0;
        for part in plan.parts() {
            for set in sets(&part.lines) {
                // In the order they are swum.
                let distance = set.longest().get() as u64 * plan.pool().length().sixths() / 6;
                let swim = match set.repeats() {
                    1 => distance.to_string(),
                    many => format!("{many}×{distance}"),
                };
                let at = text[from..]
                    .find(&swim)
                    .unwrap_or_else(|| panic!("{name}: {swim} is missing after {}", &text[..from]));
                from += at + swim.len();
                if let Some(cue) = &set.cue {
                    let cue = squeezed(&cue.value);
                    let at = text[from..].find(&cue);
                    from += at.unwrap_or_else(|| panic!("{name}: {cue} is missing"));
                    from += cue.len();
                }
            }
        }
        for words in std::iter::once(plan.title()).chain(plan.focus()).chain(plan.gear()) {
            assert!(text.contains(&squeezed(&words.value)), "{name}: {}", words.value);
        }
        let safety = composed.cards.len();
        assert_eq!(
            text.matches("Swimonlywhilealifeguardoraqualifiedpersoniswatching").count(),
            safety
        );
        assert_eq!(text.matches("shortofbreath").count(), safety);
    }
}

#[test]
fn type_is_never_smaller_than_the_reading_distance_asks() {
    // Or a fault that says how small it is.
    let told = |case: &&Case| case.composed.scale < 1.0 && !case.composed.faults.is_empty();
    let told: Vec<&str> = cases().iter().filter(told).map(|case| case.name.as_str()).collect();
    assert!(told.iter().all(|name| name.contains("board")), "{told:?}");
    for_each_card(|name, stock, plan, card| {
        if told.contains(&name) {
            return;
        }
        let places: Vec<_> = plan
            .parts()
            .iter()
            .flat_map(|part| sets(&part.lines))
            .map(|set| set.swim_place)
            .collect();
        for item in card.items() {
            let Mark::Text(run) = &item.mark else { continue };
            let is_swim = item.origin.is_some_and(|place| places.contains(&place));
            assert_eq!(is_swim, matches!(item.role, Role::Swim { .. }), "{name}: {:?}", run.text);
            let least_pt = match item.role {
                Role::Swim { .. } => stock.swim_pt(run.font),
                Role::Set | Role::Rounds { .. } | Role::PartHeading | Role::Title => {
                    stock.body_pt(run.font)
                }
                _ => stock.footnote_pt(run.font),
            };
            // The other scripts' font has taller capitals at the same size.
            let same = !matches!(run.font, Font::Other | Font::OtherBold);
            assert!(!same || run.size_pt >= least_pt - 0.001, "{name}: {:?}", run.text);
        }
    });
}

#[test]
fn a_part_heading_is_never_the_last_thing_above_the_foot() {
    for_each_card(|name, _, _, card| {
        let mut roles = card.items().iter().rev().map(|item| &item.role);
        let last = roles.find(|role| matches!(role, Role::PartHeading | Role::Swim { .. }));
        assert!(matches!(last, Some(Role::Swim { .. })), "{name}: {last:?}");
    });
}

#[test]
fn no_glyph_is_missing_on_paper() {
    for_each_card(|name, _, _, card| {
        for item in card.items() {
            if let Mark::Text(run) = &item.mark {
                assert!(run.glyphs.iter().all(|glyph| glyph.id != 0), "{name}: {:?}", run.text);
            }
        }
    });
}

/// Where text begins, in drawing order, with where it is written.
pub fn baselines(card: &Card) -> impl Iterator<Item = (&deckcard::drawing::Item, Point)> {
    card.items().iter().filter_map(|item| match &item.mark {
        Mark::Text(run) => Some((item, run.at)),
        _ => None,
    })
}

#[test]
fn what_is_drawn_first_is_read_first() {
    for_each_card(|name, _, plan, card| {
        let swims: Vec<_> = plan
            .parts()
            .iter()
            .flat_map(|part| sets(&part.lines))
            .map(|set| set.swim_place)
            .collect();
        // Swim lines and headings go down the card in the order of the session.
        let (mut last_swim, mut last_y_pt) = (None, f32::MIN);
        for (item, at) in baselines(card) {
            let Some(index) = swims.iter().position(|place| Some(*place) == item.origin) else {
                continue;
            };
            assert!(last_swim.is_none_or(|last| last <= index), "{name}: sets out of order");
            let same = last_swim == Some(index);
            assert!(same || at.y_pt > last_y_pt, "{name}: a set above the one before it");
            (last_swim, last_y_pt) = (Some(index), at.y_pt.max(last_y_pt));
        }
        let ys = |role: Role| {
            baselines(card).filter(move |(item, _)| item.role == role).map(|(_, at)| at.y_pt)
        };
        let lowest = |role: Role| ys(role).fold(f32::MIN, f32::max);
        let highest = |role: Role| ys(role).fold(f32::MAX, f32::min);
        assert!(lowest(Role::Title) < highest(Role::PartHeading), "{name}: title below a part");
        assert!(highest(Role::PartHeading) < highest(Role::Set), "{name}: a set above its part");
        let last = baselines(card).map(|(item, _)| &item.role).last();
        assert_eq!(last, Some(&Role::Safety), "{name}: the foot is read last");
    });
}

#[test]
fn a_larger_stock_never_needs_more_cards() {
    // The same reading distance, margin and footnotes; only the paper grows (mm).
    let grown = [("74", "105"), ("105", "148"), ("120", "160"), ("148", "210"), ("210", "297")];
    let stocks = grown.map(|(width, height)| {
        let text = format!(
            "name = \"{width}\"\nwidth = \"{width} mm\"\nheight = \"{height} mm\"\n\
             margin = \"5 mm\"\nreading = \"400 mm\"\nfootnotes = \"300 mm\""
        );
        Stock::read(&text).expect("a stock")
    });
    for (name, plan, extras) in sessions() {
        // A small card breaks rounds that a larger one keeps together, which may cost it one.
        if plan.parts().iter().any(|part| part.lines.iter().any(is_rounds)) {
            continue;
        }
        let mut least = usize::MAX;
        for stock in &stocks {
            let cards = composed(&plan, &extras, stock).cards.len();
            assert!(cards <= least, "{name} on {}: {cards} cards, {least} on less", stock.name);
            least = cards;
        }
    }
}

fn is_rounds(line: &LinePlan) -> bool {
    matches!(line, LinePlan::Rounds { .. })
}

#[test]
fn reading_distances_follow_from_the_type_on_the_card() {
    for Case { name, stock, composed, .. } in cases() {
        let reading = composed.reading();
        // ISO 9241-303: 20' for the swim line, 16' for the rest; the stock's distance at scale 1.
        let least_mm = stock.reading.mm() * composed.scale * 0.999;
        assert!(reading.reads_from_mm >= least_mm, "{name}: {reading:?}");
        assert!(reading.swim_reads_from_mm >= least_mm, "{name}: {reading:?}");
        assert!(reading.swim_cap_mm > reading.smallest_cap_mm, "{name}: {reading:?}");
    }
}
