//! A stock on which nothing fits, by an ordinary session tried on it.

use super::rules::{DOES_NOT_FIT, TYPE_TOO_SMALL};
use crate::card::{Extras, Fault, compose};
use crate::finding::Finding;
use crate::intake;
use crate::measure::Extent;
use crate::source::Source;
use crate::stock::Stock;
use crate::words::Words;

/// A title and a focus of a few words, and one set with its cue.
const ORDINARY: &str = r#"
title = "Legs and balance"
pool  = "25 m"
level = "beginner"
goal  = "technique"
focus = "kick from the hip"
pace  = "2:30"

[[part]]
kind = "main set"
sets = [{ swim = "8 x 50 free", rest = "20 s", cue = "kick from the hip" }]
"#;

/// Reading distances are tried in steps of so many millimetres.
const STEP_MM: u32 = 50;

/// The finding for a stock of the coach's own that does not hold an ordinary session, or not in type
/// that reads from as far as it says: the fault is then the stock's, and no set's.
pub(super) fn too_small(stock: &Stock, words: &Words) -> Option<Finding> {
    let place = stock.reading_place?;
    let intake = intake::take(Source::new("ordinary.toml", ORDINARY));
    let plan = &intake.ready.as_ref()?.written.plan;
    let faults = |stock: &Stock| compose(plan, &Extras::default(), stock, words).faults;
    let found = faults(stock);
    if found.is_empty() {
        return None;
    }
    let read_from = |steps: u32| Extent::whole_mm(u64::from(steps * STEP_MM));
    let fits =
        |steps: u32| faults(&Stock { reading: read_from(steps), ..stock.clone() }).is_empty();
    let steps: Vec<u32> = (1..=stock.reading.mm() as u32 / STEP_MM).collect();
    let most = read_from(steps.partition_point(|steps| fits(*steps)) as u32);
    let help = match most >= stock.footnotes {
        true => {
            format!("an ordinary set fits on a card read from {most} mm; or take a larger stock")
        }
        false => "take a larger stock".to_owned(),
    };
    let (rule, title) = match found.iter().any(Fault::leaves_out) {
        true => (&DOES_NOT_FIT, "not even an ordinary set fits"),
        false => (&TYPE_TOO_SMALL, "even an ordinary set is below its least size"),
    };
    let title = format!("{title} on the stock \"{}\"", stock.name);
    let label = format!("type read from {} mm is too large for its cards", stock.reading);
    Some(Finding::new(rule, title).label(place, label).help(help))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words() -> Words {
        Words::named("en").expect("English").expect("words")
    }

    /// A6, read from so many millimetres.
    fn own(reading_mm: u32) -> Stock {
        let text = Stock::built_in("a6").expect("A6").text().to_owned();
        Stock::read(&text.replace("500 mm", &format!("{reading_mm} mm"))).expect("a stock")
    }

    #[test]
    fn an_ordinary_session_is_without_errors() {
        let intake = intake::take(Source::new("ordinary.toml", ORDINARY));
        assert!(intake.ready.is_some(), "{:?}", intake.findings);
    }

    #[test]
    fn what_the_help_advises_holds_and_one_step_more_does_not() {
        let finding = too_small(&own(3000), &words()).expect("3 m from a card of A6");
        let advised: u32 = finding.help[0]
            .split_whitespace()
            .find_map(|word| word.parse().ok())
            .expect("a distance");
        assert!(too_small(&own(advised), &words()).is_none());
        // What the advice promises is the full size; one step further, type is smaller than that.
        let plan = intake::take(Source::new("ordinary.toml", ORDINARY)).ready.expect("it").written;
        let faults = |reading_mm: u32| {
            compose(&plan.plan, &Extras::default(), &own(reading_mm), &words()).faults
        };
        assert_eq!(faults(advised), []);
        assert_ne!(faults(advised + STEP_MM), []);
    }

    /// From "not at all" down to "well", the finding names the reading distance all the way.
    #[test]
    fn between_refused_and_good_the_reading_distance_is_named() {
        let found = |mm| too_small(&own(mm), &words()).map(|finding| finding.is_error());
        assert_eq!(found(5001), Some(true));
        assert_eq!(found(500), None);
        let all: Vec<Option<bool>> = (500..=5000).step_by(250).map(found).collect();
        assert!(all.contains(&Some(false)), "{all:?}");
        // Once it is at fault, it stays so.
        assert!(all.is_sorted(), "{all:?}");
    }

    #[test]
    fn a_stock_of_the_program_is_never_at_fault() {
        for name in Stock::names() {
            // Read as if the file were a coach's own.
            let stock = Stock::built_in(name).map(|file| Stock::read(file.text()));
            let stock = stock.expect("a name").expect("a stock");
            assert!(stock.reading_place.is_some());
            assert_eq!(too_small(&stock, &words()), None, "{name}");
        }
    }
}
