//! What the foot of a card says: what to bring, safety, version, club, which card it is.

use crate::plan::{Plan, Spacing};
use crate::typeset::Typesetter;
use crate::typeset::paragraph::{Text, bold, plain};
use crate::words::{Words, filled};

/// Which card of how many.
#[derive(Clone, Copy, Debug)]
pub(in crate::card) struct Number {
    pub this: usize,
    pub all: usize,
}

/// The texts of the foot.
pub(in crate::card) struct FootTexts {
    pub bring: Option<Text>,
    pub safety: Text,
    /// The version, the lap and the club.
    pub origin: Text,
    /// The same without the club, where there is a lap.
    pub without_club: Option<Text>,
    /// Which card it is, of the first two; sizes are tried with these.
    pub cards: [Text; 2],
}

impl FootTexts {
    /// Words the foot of `plan`.
    pub fn new(typesetter: &mut Typesetter, plan: &Plan, words: &Words) -> Self {
        let gear: Vec<&str> = plan.gear.iter().map(|gear| gear.value.as_str()).collect();
        let bring = [bold(format!("{} ", words.foot.bring)), plain(gear.join(", "))];
        let mut safety = words.foot.safety.join(" ");
        if has_lane_rest(plan) {
            safety = format!("{safety} {}", words.foot.lane_rest);
        }
        let (whole, bare) = origin(plan, words);
        FootTexts {
            bring: (!gear.is_empty()).then(|| Text::new(typesetter, &bring)),
            safety: Text::new(typesetter, &[plain(safety)]),
            origin: Text::new(typesetter, &[plain(whole)]),
            cards: [1, 2].map(|this| card_text(typesetter, words, Number { this, all: 2 })),
            without_club: bare.map(|bare| Text::new(typesetter, &[plain(bare)])),
        }
    }
}

/// "card 1 of 2".
pub(in crate::card) fn card_text(
    typesetter: &mut Typesetter,
    words: &Words,
    number: Number,
) -> Text {
    let (this, all) = (number.this.to_string(), number.all.to_string());
    let text = filled(&words.foot.card, &[("number", &this), ("count", &all)]);
    Text::new(typesetter, &[bold(text.replace(' ', "\u{a0}"))])
}

/// Whether a rest on the card has a lane's leave-on time beside it.
fn has_lane_rest(plan: &Plan) -> bool {
    let mut sets = plan.parts.iter().flat_map(|part| part.sets());
    sets.any(|set| {
        matches!(set.spacing, Spacing::Rest { leave_on: Some(_), .. }) && set.rest().get() > 0
    })
}

/// "25 yd, recut from 1,000 m".
pub(in crate::card) fn version(plan: &Plan, words: &Words) -> String {
    let pool = words.pool(plan.pool);
    match plan.recut {
        None => filled(&words.foot.as_written, &[("pool", &pool)]),
        Some(from) => {
            let distance = words.distance(from.distance);
            filled(&words.foot.recut, &[("pool", &pool), ("distance", &distance)])
        }
    }
}

/// The version, how long a lap is in the other unit, and whose session it
/// is; and, where there is a lap, the same without whose.
fn origin(plan: &Plan, words: &Words) -> (String, Option<String>) {
    let lap =
        plan.lap_text().map(|lap| filled(&words.foot.lap, &[("distance", &words.decimal(&lap))]));
    let lap = lap.map(|lap| lap.replace(' ', "\u{a0}"));
    let with_lap = lap.is_some();
    let mut pieces: Vec<String> = std::iter::once(version(plan, words)).chain(lap).collect();
    let bare = with_lap.then(|| pieces.join(" · "));
    pieces.extend(plan.club.as_ref().map(|club| club.value.clone()));
    (pieces.join(" · "), bare)
}
