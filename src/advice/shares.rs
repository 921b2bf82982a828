//! Shares of the distance against the bands.

use super::{Subject, advice};
use crate::finding::{Finding, Severity};
use crate::measure::Lengths;
use crate::plan::bands::{band, holds};
use crate::reader::trade_words::TradeWord;
use crate::session::ShareBand;
use crate::session::words::PartKind;

advice! {
    pub(crate) PART_SHARE by part_share {
        id: "part-share",
        severity: Severity::Warning,
        summary: "a part is far larger or smaller than is usual for the level",
        why: "A warm-up that takes a third of the distance leaves too little for the work; a main set \
              that takes nearly all of it is swum cold and left without easing down.",
        unworried: "On a night with a purpose of its own, a time trial or a first evening: allow it and \
                    say why. A club can set its own bands in the club file.",
        before: "a warm-up of 400 m in a session of 1,000 m",
        after: "a warm-up of 150 m in a session of 1,000 m",
        source: "Bands in per cent of the distance; common practice, no published source.",
    }
}

fn part_share(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let whole = subject.plan.lengths.get();
    for (kind, _) in PartKind::ALL.iter().copied() {
        let parts: Vec<_> = subject.parts().filter(|(part, _)| part.kind.value == kind).collect();
        // Pre-set and post set may be missing; a session without a warm-up or cool-down is reported.
        let may_miss = matches!(kind, PartKind::PreSet | PartKind::PostSet);
        let Some(band) = band(subject.session, kind) else { continue };
        if parts.is_empty() && (may_miss || band.least == 0) {
            continue;
        }
        let lengths: u32 = parts.iter().map(|(_, plan)| plan.lengths.get()).sum();
        if holds(band, u64::from(lengths), u64::from(whole)) {
            continue;
        }
        let place = parts.first().map_or(subject.session.title.place, |(part, _)| part.kind.place);
        found.push(out_of_band(subject, kind, lengths, band).label(place, ""));
    }
}

fn out_of_band(subject: &Subject<'_>, kind: PartKind, lengths: u32, band: ShareBand) -> Finding {
    let whole = subject.plan.lengths.get();
    let tenths = (2000 * u64::from(lengths) + u64::from(whole)) / (2 * u64::from(whole.max(1)));
    let share = format!("{}.{}", tenths / 10, tenths % 10);
    let pool = subject.plan.pool;
    let title = if lengths == 0 {
        format!("there is no {kind}; {} to {} % is usual", band.least, band.most)
    } else {
        format!(
            "the {kind} is {share} % of the distance; {} to {} % is usual",
            band.least, band.most
        )
    };
    let text = |lengths: u64| {
        let distance = pool.distance(Lengths::new(u32::try_from(lengths).unwrap_or(u32::MAX)));
        distance.with_commas()
    };
    // Pairs of lengths, so that the part still ends at its own wall.
    let pairs_up = |percent: u32| (u64::from(percent) * u64::from(whole)).div_ceil(200) * 2;
    let pairs_down = |percent: u32| u64::from(percent) * u64::from(whole) / 200 * 2;
    let (least, most) = (pairs_up(band.least), pairs_down(band.most));
    let finding = Finding::new(&PART_SHARE, title);
    if least > most {
        return finding;
    }
    finding.help(format!(
        "of {} that is {} to {}; it has {}",
        subject.plan.distance().with_commas(),
        text(least),
        text(most),
        text(u64::from(lengths))
    ))
}
