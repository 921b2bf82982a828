//! What a recovery session leaves out: effort, and hurry.

use super::{Subject, advice};
use crate::check::Timing;
use crate::finding::{Finding, Severity};
use crate::measure::Seconds;
use crate::session::words::{Effort, Goal, Level};

advice! {
    RECOVERY_ABOVE_STEADY by recovery_above_steady {
        id: "recovery-above-steady",
        severity: Severity::Warning,
        summary: "a recovery session asks for more than steady swimming",
        why: "The session is there so that the next hard one can be swum well; a strong set in it makes \
              one more hard session, and a day of rest is lost.",
        unworried: "If it is a short build at the end to wake the arms before a race, allow it; a build \
                    that starts easy can also be written with effort = \"steady\".",
        before: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"strong\" }",
        after: "{ swim = \"4 x 50 free\", rest = \"20 s\", effort = \"easy\" }",
        source: "Common practice, no source.",
    }

    RECOVERY_IN_A_HURRY by recovery_in_a_hurry {
        id: "recovery-in-a-hurry",
        severity: Severity::Warning,
        summary: "a recovery session leaves less than 10 s between repeats",
        why: "A send-off that has to be made is work, however easy the word beside it; the lane swims \
              to the clock and not to its breath.",
        unworried: "If the repeats are only a way to count one long easy swim; write that swim instead.",
        before: "{ swim = \"6 x 100 choice\", rest = \"5 s\", effort = \"easy\" }",
        after: "{ swim = \"6 x 100 choice\", rest = \"20 s\", effort = \"easy\" }",
        source: "Common practice, no source; 10 s is a choice of this program.",
    }
}

/// Less than this between repeats is a hurry.
const LEAST_REST: Seconds = Seconds::new(10);

fn recovery_above_steady(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    if !subject.session.develops(Goal::Recovery) {
        return;
    }
    for spot in subject.spots() {
        if spot.effort() <= Effort::Steady {
            continue;
        }
        let place = spot.set.effort.as_ref().map_or(spot.set.place, |effort| effort.place);
        let title =
            format!("the {} asks for {} swimming on a recovery day", spot.kind, spot.effort());
        found.push(
            Finding::new(&RECOVERY_ABOVE_STEADY, title)
                .label(place, "")
                .help("write: effort = \"easy\", or name the goal that the session has"),
        );
    }
}

fn recovery_in_a_hurry(subject: &Subject<'_>, found: &mut Vec<Finding>) {
    if !subject.session.develops(Goal::Recovery) {
        return;
    }
    let beginners = subject.session.level.value == Level::Beginner;
    for spot in subject.spots() {
        let rest = spot.plan.rest();
        let (line, written) = match spot.set.timing.value {
            Timing::Rest(_) | Timing::Unsaid(_) => ("rest = \"20 s\"".to_owned(), true),
            Timing::SendOff(_) | Timing::Per100(_) => {
                let enough = spot.plan.swim().plus(Seconds::new(15)).rounded_up_to(5);
                (format!("on = \"{enough}\""), false)
            }
        };
        // A written rest of beginners has a finding of its own.
        if spot.plan.repeats() == 1 || rest >= LEAST_REST || (beginners && written) {
            continue;
        }
        let title = format!("a recovery session leaves {} between repeats", rest.spoken());
        found.push(
            Finding::new(&RECOVERY_IN_A_HURRY, title)
                .label(spot.set.timing.place, "15 to 30 s is usual")
                .help(format!("write: {line}")),
        );
    }
}
