//! How long drafts take: usual wishes, and those that are hard to meet.
//!
//! `cargo bench --bench drafts`. Times are printed; nothing is asserted, since a busy machine is no
//! fault of the search. On two idle cores a draft takes at most 2 s and a block 5 s.

use std::time::Instant;

use deckcard::block::drafting::{BlockWish, draft_block};
use deckcard::draft::{Library, Wish, draft};
use deckcard::measure::{Distance, Pace, Pool, Seconds};
use deckcard::reader::trade_words::TradeWord;
use deckcard::session::words::{Goal, Level};
use deckcard::source::Source;

fn main() {
    let library = Library::built_in().expect("the program's own patterns");
    for (goal, _) in Goal::ALL {
        for (level, pace_s) in
            [(Level::Beginner, 170), (Level::Improver, 130), (Level::Advanced, 85)]
        {
            for (metres, minutes) in [
                (Some(1000), None),
                (Some(5000), None),
                (None, Some(15)),
                (None, Some(60)),
                (None, Some(170)),
            ] {
                let pool: Pool = "25 m".parse().expect("a pool");
                let pace = Pace { per_100: Seconds::new(pace_s), unit: pool.unit() };
                let wish = Wish {
                    time: minutes.map(|minutes: u32| Seconds::new(minutes * 60)),
                    distance: metres.map(|metres| Distance::whole(metres, pool.unit())),
                    ..Wish::new(level, *goal, pool, pace)
                };
                let begun = Instant::now();
                let met = draft(&wish, &library).is_ok();
                let took = begun.elapsed();
                println!("{goal} {level} {metres:?} {minutes:?}: {took:.1?}, met: {met}");
            }
        }
    }
    for (from, to, weeks, minutes) in [
        ("50 m", "400 m", 10, None),
        ("200 m", "a mile", 12, Some(60)),
        ("200 m", "a mile", 14, Some(90)),
        ("1500 m", "3 km", 30, None),
    ] {
        let wish = block(from, to, weeks, minutes);
        let begun = Instant::now();
        let club = |name: &str| Ok(Source::new(name, "name = \"Club\"\n"));
        let met = draft_block(&wish, &library, &club, &|| {}).is_ok();
        println!("{from} to {to} in {weeks} weeks: {:.1?}, met: {met}", begun.elapsed());
    }
}

fn block(from: &str, to: &str, weeks: u32, minutes: Option<u32>) -> BlockWish {
    let pool: Pool = "25 m".parse().expect("a pool");
    BlockWish {
        title: None,
        club: None,
        from: from.parse().expect("a distance"),
        to: to.parse().expect("a distance"),
        weeks,
        sessions: 2,
        level: Level::Improver,
        pool,
        pace: Pace { per_100: Seconds::new(150), unit: pool.unit() },
        time: minutes.map(|minutes| Seconds::new(minutes * 60)),
        session: None,
        growth_percent: 10,
        longest_growth_percent: 50,
        begins: None,
        day: None,
        days: Vec::new(),
        starts: None,
        gear: Vec::new(),
    }
}
