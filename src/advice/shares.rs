//! Shares of the distance against the bands.

use super::{Subject, advice};
use crate::finding::{Finding, Severity};
use crate::measure::Lengths;
use crate::plan::bands::{band, extremes, holds, of_club};
use crate::reader::trade_words::TradeWord;
use crate::session::ShareBand;
use crate::session::words::PartKind;

advice! {
    pub(crate) PART_SHARE by part_share {
        id: "part-share",
        severity: Severity::Warning,
        summary: "a part is far larger or smaller than is usual for the level",
        why: "A warm-up that takes half of the distance leaves too little for the work; a main set \
              that takes nearly all of it is swum cold and left without easing down. What is not far \
              from the usual shares is a note: a cool-down of a twentieth, a third of warm-up before \
              sprints.",
        unworried: "On a night with a purpose of its own, a time trial or a first evening: allow it and \
                    say why. A club can set its own bands in the club file; a share outside those is \
                    always a warning.",
        before: "a warm-up of 500 m in a session of 1,000 m",
        after: "a warm-up of 150 m in a session of 1,000 m",
        source: "Bands in per cent of the distance; common practice, no published source.",
    }
}

/// What the parts of one kind have, and may have.
#[derive(Clone, Copy)]
struct Share {
    kind: PartKind,
    lengths: u32,
    band: ShareBand,
}

fn part_share(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    let shares = shares(subject);
    let off = off(subject, &shares);
    // One part that is wrong moves the shares of all: what it alone puts right is not noted again.
    let culprit = off.iter().map(|(share, _)| share.kind).find(|kind| {
        let share = shares.iter().find(|share| share.kind == *kind);
        share.is_some_and(|share| lengths_that_suit(&shares, *share, whole(subject)).is_some())
    });
    for (share, far) in off {
        if !far && culprit.is_some_and(|kind| kind != share.kind) {
            continue;
        }
        let place = subject.parts().find(|(part, _)| part.kind.value == share.kind);
        let place = place.map_or(subject.session.title.place, |(part, _)| part.kind.place);
        let finding = out_of_band(subject, share).label(place, "");
        let finding = match cure(subject, &shares, share) {
            Some(help) => finding.help(help),
            None => finding,
        };
        found.push(if far { finding } else { finding.as_note() });
    }
}

fn whole(subject: &Subject<'_>) -> u64 {
    u64::from(subject.plan.lengths.get())
}

/// The shares outside their bands, each with whether it is far outside; those first.
fn off(subject: &Subject<'_>, shares: &[Share]) -> Vec<(Share, bool)> {
    let whole = whole(subject);
    let outside = |band: ShareBand, share: &Share| !holds(band, share.lengths.into(), whole);
    let far = |share: &Share| {
        of_club(subject.session, share.kind).is_some()
            || extremes(share.kind).is_some_and(|far| outside(far, share))
    };
    let off = shares.iter().filter(|share| outside(share.band, share));
    let mut off: Vec<(Share, bool)> = off.map(|share| (*share, far(share))).collect();
    off.sort_by_key(|(_, far)| !far);
    off
}

/// Every kind of part that has a band here, but pre-sets and post sets that are not there: those
/// may be missing, and a session without a warm-up or a cool-down is reported.
fn shares(subject: &Subject<'_>) -> Vec<Share> {
    let kinds = PartKind::ALL.iter().map(|(kind, _)| *kind);
    let shares = kinds.filter_map(|kind| {
        let band = band(subject.session, kind)?;
        let parts = || subject.parts().filter(|(part, _)| part.kind.value == kind);
        let may_miss = matches!(kind, PartKind::PreSet | PartKind::PostSet) || band.least == 0;
        let lengths = parts().map(|(_, plan)| plan.lengths.get()).sum();
        (parts().next().is_some() || !may_miss).then_some(Share { kind, lengths, band })
    });
    shares.collect()
}

fn out_of_band(subject: &Subject<'_>, share: Share) -> Finding {
    let Share { kind, lengths, band } = share;
    let whole = subject.plan.lengths.get();
    let tenths = (2000 * u64::from(lengths) + u64::from(whole)) / (2 * u64::from(whole.max(1)));
    let usual = match band.least == band.most {
        true => format!("{} % is usual", band.most),
        false => format!("{} to {} % is usual", band.least, band.most),
    };
    let title = match lengths {
        0 => format!("there is no {kind}; {usual}"),
        _ => format!("the {kind} is {}.{} % of the distance; {usual}", tenths / 10, tenths % 10),
    };
    Finding::new(&PART_SHARE, title)
}

/// How long one kind of part would have to be, everything else as it is, so that all shares are in
/// their bands, or this one and those that are now: what is offered raises no other finding. Nothing
/// where no one change does it.
fn cure(subject: &Subject<'_>, shares: &[Share], wrong: Share) -> Option<String> {
    let whole = whole(subject);
    let now_right =
        |share: &&Share| share.kind == wrong.kind || holds(share.band, share.lengths.into(), whole);
    let right: Vec<Share> = shares.iter().filter(now_right).copied().collect();
    let (changed, (least, most)) =
        one_change(shares, wrong.kind, whole).or_else(|| one_change(&right, wrong.kind, whole))?;
    let text = |lengths: u64| {
        let lengths = Lengths::new(u32::try_from(lengths).unwrap_or(u32::MAX));
        subject.plan.pool.distance(lengths).with_commas()
    };
    let range = match least == most {
        true => text(least),
        false => format!("{} to {}", text(least), text(most)),
    };
    let kind = changed.kind;
    Some(match changed.lengths {
        0 => format!("with the other parts as they are, write a {kind} of {range}"),
        now => format!(
            "with the other parts as they are, make the {kind} {range}; it has {}",
            text(now.into())
        ),
    })
}

/// The one kind of part that puts all of `wanted` right, and its lengths: `first` if it does, else
/// the main set, which has most to give, else any other.
fn one_change(wanted: &[Share], first: PartKind, whole: u64) -> Option<(Share, (u64, u64))> {
    let mut order = wanted.to_vec();
    order.sort_by_key(|share| (share.kind != first, share.kind != PartKind::MainSet));
    order.into_iter().find_map(|share| Some((share, lengths_that_suit(wanted, share, whole)?)))
}

/// The least and the most lengths of one kind of part with which every share of `wanted` is in its
/// band, in pairs of lengths, so that the part ends at the wall where it began.
///
/// With x lengths of it beside `rest` others the session has `rest` + x, which moves all shares.
fn lengths_that_suit(wanted: &[Share], changed: Share, whole: u64) -> Option<(u64, u64)> {
    let rest = whole.checked_sub(changed.lengths.into())?;
    let (mut least, mut most) = (1, LONGEST_PART * whole);
    for share in wanted {
        let (low, high) = (u64::from(share.band.least), u64::from(share.band.most));
        let lengths = u64::from(share.lengths);
        if share.kind == changed.kind {
            // low (rest + x) <= 100 x <= high (rest + x)
            least = least.max((low * rest).div_ceil(100_u64.checked_sub(low).filter(|p| *p > 0)?));
            most = most.min((high * rest).checked_div(100 - high.min(100)).unwrap_or(most));
        } else {
            // low (rest + x) <= 100 lengths <= high (rest + x)
            let total_most = (100 * lengths).checked_div(low).unwrap_or(u64::MAX);
            most = most.min(total_most.saturating_sub(rest));
            let total_least = (100 * lengths).checked_add(high.checked_sub(1)?)? / high;
            least = least.max(total_least.saturating_sub(rest));
        }
    }
    let (least, most) = (least.div_ceil(2) * 2, most / 2 * 2);
    (least <= most).then_some((least, most))
}

/// No part is offered at more than so many times the session.
const LONGEST_PART: u64 = 4;

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(lengths: [u32; 3]) -> Vec<Share> {
        let bands = [(PartKind::WarmUp, 10, 20), (PartKind::MainSet, 60, 80)];
        let bands = bands.into_iter().chain([(PartKind::CoolDown, 10, 20)]);
        let of = |((kind, least, most), lengths)| Share {
            kind,
            lengths,
            band: ShareBand { least, most },
        };
        bands.zip(lengths).map(of).collect()
    }

    /// By hand, in lengths of 25 m. 4, 22 and 2 of 28 (700 m): a cool-down of x makes 26 + x.
    /// x of 26 + x is a tenth from 26 / 9 = 2.9 on and a fifth up to 26 / 4 = 6.5; the warm-up's 4
    /// are a tenth up to 40; the main set's 22 are 80 % from 27.5 on, and 60 % up to 36.7: 4 to 6.
    #[test]
    fn a_part_that_grows_makes_the_session_longer() {
        let all = shares([4, 22, 2]);
        assert_eq!(lengths_that_suit(&all, all[2], 28), Some((4, 6)));
        // The shares at both ends: 4 of 30 and 22 of 30, 6 of 32 and 22 of 32.
        for (cool_down, whole) in [(4, 30), (6, 32)] {
            let [cool, main] = [(cool_down, 10, 20), (22, 60, 80)]
                .map(|(part, least, most)| holds(ShareBand { least, most }, part, whole));
            assert!(cool && main);
        }
    }

    /// By hand: 4, 12 and 4 of 20 are 20, 60 and 20 %. With 2 more of either main's share falls
    /// below 60; with a warm-up of 6 nothing puts the cool-down right but more main set: of 10 + x
    /// the 6 are a fifth from 30 on, so 20, and the 4 are a tenth up to 40, so 30.
    #[test]
    fn a_length_that_would_put_another_part_wrong_is_not_offered() {
        let all = shares([6, 12, 4]);
        let one = |at: usize| lengths_that_suit(&all, all[at], 22);
        // A warm-up of x beside 16: a fifth up to 4; the main set's 12 are 60 % up to 20: 4.
        assert_eq!(one(0), Some((4, 4)));
        assert_eq!(one(1), Some((20, 30)));
        assert_eq!(one(2), None);
    }
}
