use deckcard::draft::{Library, Wish, draft};
use deckcard::measure::{Pace, Pool, Seconds, Unit};
use deckcard::session::words::{Goal, Level};

#[test]
fn scratch_grid() {
    let library = Library::built_in().unwrap_or_else(|e| panic!("{e}"));
    let start = std::time::Instant::now();
    let mut n = 0;
    for goal in [Goal::Technique, Goal::Endurance, Goal::Speed, Goal::Strokes, Goal::WaterTime] {
        for level in [Level::Beginner, Level::Improver, Level::Advanced] {
            for pool in ["25 m", "50 m", "25 yd", "20 yd", "33 1/3 m"] {
                let pool: Pool = pool.parse().unwrap();
                for minutes in [30, 40, 45, 60, 75, 90] {
                    for p in match level {
                        Level::Beginner => [150, 180],
                        Level::Improver => [105, 130],
                        _ => [80, 95],
                    } {
                        for v in 0..2 {
                            let mut wish = Wish::new(
                                level,
                                goal,
                                pool,
                                Pace { per_100: Seconds::new(p), unit: pool.unit() },
                            );
                            wish.time = Some(Seconds::new(minutes * 60));
                            wish.variant = v;
                            n += 1;
                            match draft(&wish, &library) {
                                Ok(d) => {
                                    if n % 9999 == 0 {
                                        println!("{}\n{}", d.seconds, d.text)
                                    }
                                }
                                Err(e) => {
                                    println!("FAIL {goal} {level} {pool} {minutes} {p} {v}: {e}")
                                }
                            }
                        }
                    }
                }
            }
        }
    }
    println!("{n} in {:?}", start.elapsed());
    let _ = Unit::Metre;
}
