//! The search held against trying everything, on sessions of three parts.

use super::*;
use crate::draft::search::{Aim, Window};
use crate::draft::{Library, with_engine};
use crate::measure::Pool;
use crate::plan::awkward::uneven;
use crate::plan::bands::{band, holds};
use crate::session::ShareBand;
use crate::session::words::Goal;

/// Written out again, from what the search says it counts.
fn cost(engine: &Engine<'_>, parts: [&Size<'_>; 3], window: Window) -> Option<(u32, u64)> {
    let kinds = [PartKind::WarmUp, PartKind::MainSet, PartKind::CoolDown];
    let lengths: u32 = parts.iter().map(|size| size.lengths).sum();
    let lines: usize = parts.iter().map(|size| size.lines.len()).sum();
    let changeovers = engine.head.changeover.get() * (u32::try_from(lines).expect("few") - 1);
    let seconds: u32 = parts.iter().map(|size| size.seconds).sum::<u32>() + changeovers;
    let inside = |span: (u32, u32), value: u32| span.0 <= value && value <= span.1;
    if !inside(window.lengths, lengths) || !inside(window.seconds, seconds) {
        return None;
    }
    let mut cost = u64::from(parts.iter().map(|size| size.awkward).sum::<u32>());
    for (kind, size) in kinds.into_iter().zip(parts) {
        let band: ShareBand = band(&engine.head, kind).expect("a band");
        let (part, whole) = (u64::from(size.lengths), u64::from(lengths));
        if !holds(band, part, whole) {
            return None;
        }
        if kind != PartKind::MainSet {
            let middle = u64::from((band.least + band.most) / 2) * whole;
            cost += (part * 100).abs_diff(middle) / whole;
        }
    }
    cost += window.wished_lengths.map_or(0, |wished| u64::from(lengths.abs_diff(wished)) * 10);
    cost += u64::from(uneven(engine.wish.pool.distance(Lengths::new(lengths))));
    cost += u64::from((window.seconds.1 - seconds).min(3600) / 30);
    Some((seconds, cost))
}

/// The least cost, the least and the most seconds, every choice looked at.
fn tried_all(
    engine: &Engine<'_>,
    sizes: [&[Size<'_>]; 3],
    window: Window,
) -> Option<(u64, u32, u32)> {
    let [ups, mains, downs] = sizes;
    let pairs = ups.iter().flat_map(|up| downs.iter().map(move |down| (up, down)));
    let all = pairs.flat_map(|(up, down)| mains.iter().map(move |main| [up, main, down]));
    let met: Vec<(u32, u64)> = all.filter_map(|parts| cost(engine, parts, window)).collect();
    let least = met.iter().map(|(_, cost)| *cost).min()?;
    let seconds = || met.iter().map(|(seconds, _)| *seconds);
    Some((least, seconds().min()?, seconds().max()?))
}

#[test]
fn the_search_finds_what_trying_everything_finds() {
    let library = Library::built_in().expect("the program's own patterns");
    let (mut found, mut missed) = (0, 0);
    for pool in ["25 m", "50 m", "20 yd", "33 1/3 m"] {
        for variant in 0..6 {
            let pool: Pool = pool.parse().expect("a pool");
            let pace = Pace { per_100: Seconds::new(170), unit: pool.unit() };
            let plain = Wish::new(Level::Beginner, Goal::Technique, pool, pace);
            let wish = Wish { time: Some(Seconds::new(2400)), variant, ..plain };
            let outcome = with_engine(&wish, &library, &|_| unreachable!("no club"), |engine| {
                let kinds = [PartKind::WarmUp, PartKind::MainSet, PartKind::CoolDown];
                let sizes = kinds.map(|kind| {
                    let stocked = engine.of_kind(kind).first().expect("a pattern");
                    engine.sizes(stocked, kind)
                });
                let sides = [(kinds[0], sizes[0]), (kinds[2], sizes[2])];
                let sides = || {
                    let list =
                        sides.map(|(kind, sizes)| Side { kind, sizes: sizes.iter().collect() });
                    Sides::new(list.to_vec())
                };
                for metres in (300..=1500).step_by(150) {
                    let lengths =
                        metres * 6 / u32::try_from(pool.length().sixths()).expect("short") / 2 * 2;
                    for (aim, seconds) in [
                        (Aim::Best, (0, u32::MAX)),
                        (Aim::Quickest, (0, u32::MAX)),
                        (Aim::Slowest, (0, u32::MAX)),
                        (Aim::Best, (metres * 2, metres * 2 + 90)),
                    ] {
                        let is_timed = seconds.1 < u32::MAX;
                        let window = Window {
                            seconds,
                            lengths: if is_timed { (1, u32::MAX) } else { (lengths, lengths + 4) },
                            wished_lengths: (!is_timed).then_some(lengths + 2),
                            aim,
                        };
                        let patience = Patience::of(PATIENCE);
                        let mains = Mains::joined(engine.bench(), &[sizes[1]], window, &patience);
                        let ours = best(engine.bench(), &sides(), &mains, window, &patience);
                        let ours = ours.first().map(|found| {
                            let parts: Vec<&Size<'_>> =
                                found.parts.iter().map(|(_, size)| size).collect();
                            let costed = cost(&engine, [parts[0], parts[1], parts[2]], window);
                            let (seconds, cost) = costed.expect("inside the window");
                            assert_eq!(seconds, found.seconds);
                            (cost, seconds)
                        });
                        let all = tried_all(&engine, sizes, window);
                        assert_eq!(ours.is_some(), all.is_some(), "{wish:?} {window:?}");
                        if let (Some(ours), Some(all)) = (ours, all) {
                            let same = match aim {
                                Aim::Quickest => ours.1 == all.1,
                                Aim::Slowest => ours.1 == all.2,
                                Aim::Best if is_timed => ours.0 <= all.0 + 3,
                                Aim::Best => ours.0 == all.0,
                            };
                            assert!(same, "{ours:?} {all:?} {wish:?} {window:?}");
                            found += 1;
                        } else {
                            missed += 1;
                        }
                    }
                }
                Ok(())
            });
            outcome.expect("an engine");
        }
    }
    assert!(found > 200 && missed > 20, "{found} {missed}");
}
