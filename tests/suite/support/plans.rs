//! Plans made by hand, each for one thing a card must get right.

use deckcard::check::cycle::{Cycle, Leg, Repeat};
use deckcard::finding::{FileId, Place, Placed};
use deckcard::measure::{Date, Lengths, Pace, Pool, Seconds, TimeOfDay, Unit};
use deckcard::plan::{
    ClockHand, Figures, LanePlan, LinePlan, PartPlan, Plan, RecutFrom, RepeatTime, SetPlan,
    Spacing, StrokePlan,
};
use deckcard::session::words::{Effort, EffortWord, Goal, Level, Mode, PartKind, Pattern, Stroke};
use deckcard::session::{Asked, RestSaid, Swim};

/// A place for things whose place does not matter; each differs from the others.
pub fn place() -> Place {
    use std::sync::atomic::{AtomicUsize, Ordering};
    static NEXT: AtomicUsize = AtomicUsize::new(0);
    let start = NEXT.fetch_add(1, Ordering::Relaxed);
    Place::new(FileId::MAIN, start..start + 1)
}

pub fn placed<T>(value: T) -> Placed<T> {
    Placed::new(value, place())
}

/// A set under way.
#[derive(Clone)]
pub struct Sets(pub SetPlan);

/// A repeat without legs.
const REPEAT: Repeat = Repeat { legs: Vec::new(), time: None, rest: None, on: None };

fn leg(lengths: u32) -> Leg {
    Leg {
        lengths: Lengths::new(lengths),
        short_sixths: 0,
        stroke: Stroke::Free,
        mode: Mode::Swim,
        movement: None,
        effort: None,
    }
}

/// `repeats` of `each` lengths, freestyle, no rest.
pub fn swim(repeats: u32, each: u32) -> Sets {
    Sets(SetPlan {
        chalk: Swim::plain(repeats.into(), Asked::Lengths(each.into()), Stroke::Free, Mode::Swim),
        cycle: Cycle { repeats: vec![Repeat { legs: vec![leg(each)], ..REPEAT }], times: repeats },
        times: vec![RepeatTime { swim: Seconds::new(each * 38), rest: Seconds::ZERO }],
        effort: None,
        pattern: None,
        cue: None,
        strokes: None,
        gear: Vec::new(),
        spacing: Spacing::Rest { said: None, leave_on: None },
        rest_after: None,
        lanes: Vec::new(),
        rounds: 1,
        lengths: Lengths::new(repeats * each),
        seconds: Seconds::new(repeats * each * 38),
        place: place(),
        swim_place: place(),
    })
}

impl Sets {
    pub fn rest(mut self, seconds: u32) -> Self {
        let rest = Seconds::new(seconds);
        self.0.times[0].rest = rest;
        self.0.spacing = Spacing::Rest { said: Some(RestSaid::Of(rest)), leave_on: None };
        self.timed()
    }

    pub fn lane_leaves_on(mut self, seconds: u32) -> Self {
        let said = Some(RestSaid::Of(self.0.times[0].rest));
        self.0.spacing = Spacing::Rest { said, leave_on: Some(Seconds::new(seconds)) };
        self
    }

    pub fn on(mut self, every: u32, clock: &[u32]) -> Self {
        let every = Seconds::new(every);
        self.0.times[0].rest = every.less(self.0.swim());
        let clock =
            Box::new(ClockHand { positions: clock.to_vec(), add: Some(every), first_round: None });
        let every = vec![every];
        self.0.spacing = Spacing::SendOff { every, per_100: None, clock, waits: false };
        self.timed()
    }

    fn timed(mut self) -> Self {
        self.0.seconds = self.0.round_seconds();
        self
    }

    pub fn stroke(mut self, stroke: Stroke) -> Self {
        self.0.chalk.way.stroke = Some(stroke);
        self.0.cycle.repeats[0].legs[0].stroke = stroke;
        self
    }

    pub fn mode(mut self, mode: Mode) -> Self {
        self.0.chalk.way.mode = Some(mode).filter(|mode| *mode != Mode::Swim);
        self.0.cycle.repeats[0].legs[0].mode = mode;
        self
    }

    pub fn effort(mut self, effort: Effort) -> Self {
        self.0.effort = Some(EffortWord::of(effort));
        self
    }

    pub fn pattern(mut self, pattern: Pattern) -> Self {
        self.0.pattern = Some(pattern);
        self
    }

    pub fn cue(mut self, cue: &str) -> Self {
        self.0.cue = Some(placed(cue.to_owned()));
        self
    }

    pub fn strokes(mut self, strokes: StrokePlan) -> Self {
        self.0.strokes = Some(strokes);
        self
    }

    pub fn gear(mut self, gear: &str) -> Self {
        self.0.gear.push(placed(gear.to_owned()));
        self
    }
}

impl From<Sets> for LinePlan {
    fn from(sets: Sets) -> LinePlan {
        LinePlan::Set(sets.0)
    }
}

/// `count` rounds of `lines`.
pub fn rounds(count: u32, lines: Vec<LinePlan>) -> LinePlan {
    fn multiply(line: LinePlan, count: u32) -> LinePlan {
        match line {
            LinePlan::Set(mut set) => {
                set.rounds *= count;
                set.lengths = Lengths::new(set.lengths.get() * count);
                set.seconds = set.seconds.times(count);
                LinePlan::Set(set)
            }
            LinePlan::Rounds { count: inner, lines, .. } => {
                let lines = lines.into_iter().map(|line| multiply(line, count)).collect();
                LinePlan::Rounds { count: inner, rest: None, lines, between: Seconds::ZERO }
            }
            line => line,
        }
    }
    let lines = lines.into_iter().map(|line| multiply(line, count)).collect();
    LinePlan::Rounds { count, rest: None, lines, between: Seconds::ZERO }
}

fn totals(lines: &[LinePlan]) -> (u32, u32) {
    lines.iter().fold((0, 0), |(lengths, seconds), line| match line {
        LinePlan::Set(set) => (lengths + set.lengths.get(), seconds + set.seconds.get()),
        LinePlan::Rounds { lines, .. } => {
            let inner = totals(lines);
            (lengths + inner.0, seconds + inner.1)
        }
        LinePlan::Activity { .. } | LinePlan::Remark(_) => (lengths, seconds),
    })
}

/// A part of `lines`.
pub fn part(kind: PartKind, lines: Vec<LinePlan>) -> PartPlan {
    let (lengths, seconds) = totals(&lines);
    PartPlan {
        kind,
        title: None,
        lines,
        lengths: Lengths::new(lengths),
        seconds: Seconds::new(seconds),
        share_permille: 0,
        share_percent: 0,
        starts: None,
        place: place(),
    }
}

/// A session of `parts` in `pool`.
pub fn session(title: &str, focus: &str, pool: Pool, parts: Vec<PartPlan>) -> Plan {
    plan(figures(title, focus, pool, parts))
}

fn plan(figures: Figures) -> Plan {
    Plan::new(figures).expect("sums that hold")
}

/// The figures of a session of `parts` in `pool`.
pub fn figures(title: &str, focus: &str, pool: Pool, parts: Vec<PartPlan>) -> Figures {
    Figures {
        title: placed(title.to_owned()),
        date: None,
        club: Some(placed("Kingfisher Lane Club".to_owned())),
        goal: Some(Goal::Technique),
        level: Level::Beginner,
        focus: Some(placed(focus.to_owned())),
        pool,
        pace: Pace { per_100: Seconds::new(150), unit: Unit::Metre },
        at_usual_pace: false,
        lane: None,
        recut: None,
        changes: Vec::new(),
        parts,
        changeover: Seconds::new(30),
        booked: None,
        starts: None,
        gear: Vec::new(),
    }
}

pub fn metres(length: u32) -> Pool {
    Pool::whole(length, Unit::Metre).expect("a pool")
}

pub fn yards(length: u32) -> Pool {
    Pool::whole(length, Unit::Yard).expect("a pool")
}

/// An ordinary session.
pub fn ordinary() -> Plan {
    plan(ordinary_figures())
}

fn ordinary_figures() -> Figures {
    let mut plan = figures(
        "Legs that steer",
        "kick from the hip",
        metres(25),
        vec![
            part(
                PartKind::WarmUp,
                vec![
                    swim(3, 4)
                        .rest(20)
                        .effort(Effort::Easy)
                        .cue("loose ankles")
                        .strokes(StrokePlan::Count)
                        .into(),
                ],
            ),
            part(
                PartKind::MainSet,
                vec![
                    swim(8, 3).rest(20).cue("kick from the hip, toes long").into(),
                    rounds(
                        2,
                        vec![
                            swim(2, 4)
                                .on(180, &[60])
                                .effort(Effort::Steady)
                                .pattern(Pattern::NegativeSplit)
                                .into(),
                            swim(1, 2).rest(30).stroke(Stroke::Back).effort(Effort::Easy).into(),
                        ],
                    ),
                    swim(4, 1).rest(20).mode(Mode::Kick).gear("board").into(),
                ],
            ),
            part(
                PartKind::CoolDown,
                vec![
                    swim(1, 4)
                        .stroke(Stroke::Choice)
                        .effort(Effort::Easy)
                        .cue("long and loose")
                        .into(),
                ],
            ),
        ],
    );
    plan.parts[1].title = Some(placed("Steady legs".to_owned()));
    plan.date = Date::new(2027, 1, 12).ok();
    plan.gear = vec![placed("board".to_owned())];
    plan
}

/// One set, nothing else.
pub fn sparse() -> Plan {
    session(
        "First lengths",
        "breathe out under water",
        metres(25),
        vec![part(PartKind::MainSet, vec![swim(4, 1).rest(30).into()])],
    )
}

/// Three short parts.
pub fn short() -> Plan {
    session(
        "Easy evening",
        "long arms",
        metres(25),
        vec![
            part(PartKind::WarmUp, vec![swim(4, 1).rest(20).effort(Effort::Easy).into()]),
            part(PartKind::MainSet, vec![swim(6, 2).rest(30).cue("reach, then roll").into()]),
            part(PartKind::CoolDown, vec![swim(2, 1).rest(20).stroke(Stroke::Back).into()]),
        ],
    )
}

/// More than one card holds, with every kind of line.
pub fn crowded() -> Plan {
    let mut crowded = figures(
        "Threshold on the clock",
        "hold the catch to the wall",
        yards(25),
        vec![
            part(
                PartKind::WarmUp,
                vec![
                    swim(1, 16).rest(30).effort(Effort::Easy).cue("nose down, hips up").into(),
                    swim(4, 2)
                        .rest(15)
                        .mode(Mode::Drill)
                        .cue("catch-up, one arm, fists, swim")
                        .into(),
                    swim(4, 2).rest(10).pattern(Pattern::Build).into(),
                ],
            ),
            part(
                PartKind::PreSet,
                vec![
                    swim(8, 1)
                        .on(35, &[])
                        .effort(Effort::Sprint)
                        .cue("first four strokes fast")
                        .into(),
                    swim(4, 3).rest(20).stroke(Stroke::Im).cue("fly, back, breast by 25").into(),
                ],
            ),
            part(
                PartKind::MainSet,
                vec![
                    rounds(
                        3,
                        vec![
                            swim(4, 4)
                                .on(105, &[60, 45, 30, 15])
                                .effort(Effort::Strong)
                                .cue("even splits")
                                .strokes(StrokePlan::Hold)
                                .into(),
                            swim(2, 2).rest(45).stroke(Stroke::Back).effort(Effort::Easy).into(),
                        ],
                    ),
                    swim(10, 4)
                        .on(95, &[60, 35, 10, 45, 20, 55, 30, 5, 40, 15])
                        .effort(Effort::Hard)
                        .into(),
                    swim(6, 2).rest(20).mode(Mode::Pull).gear("pull buoy").gear("paddles").into(),
                ],
            ),
            part(
                PartKind::PostSet,
                vec![
                    swim(8, 1).rest(90).effort(Effort::Sprint).strokes(StrokePlan::Goal(14)).into(),
                    swim(4, 2)
                        .rest(20)
                        .stroke(Stroke::Breast)
                        .mode(Mode::Kick)
                        .gear("board")
                        .into(),
                ],
            ),
            part(
                PartKind::CoolDown,
                vec![
                    swim(1, 8).effort(Effort::Easy).stroke(Stroke::Choice).cue("let it go").into(),
                ],
            ),
        ],
    );
    crowded.gear = ["pull buoy", "paddles", "board"].map(|g| placed(g.to_owned())).to_vec();
    crowded.recut =
        Some(RecutFrom { pool: metres(25), distance: metres(25).distance(Lengths::new(152)) });
    plan(crowded)
}

/// Accents, long words, other scripts, thirds of a metre.
pub fn words() -> Plan {
    let pool = Pool::from_thirds(100, Unit::Metre).expect("a pool");
    let mut words = figures("Żółć, Ångström & Ελλάδα", "Плыви длинно и тихо", pool, vec![
        part(PartKind::WarmUp, vec![
            swim(6, 2)
                .rest(15)
                .cue("Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen")
                .into(),
        ]),
        part(PartKind::MainSet, vec![
            swim(12, 4)
                .rest(75)
                .stroke(Stroke::Breast)
                .mode(Mode::Drill)
                .cue("two kicks, one pull; hold the line for 3 s, then 1 ½ strokes more – it’s “slow”")
                .strokes(StrokePlan::Fewer(2))
                .into(),
        ]),
    ]);
    words.parts[0].title =
        Some(placed("Überlanges Einschwimmen mit sehr vielen Wörtern".to_owned()));
    plan(words)
}

/// The first lane's card, with times of day.
pub fn lane() -> Plan {
    lane_named("Lane 1")
}

/// A lane's card, with times of day.
pub fn lane_named(name: &str) -> Plan {
    let mut lane = ordinary_figures();
    lane.lane = Some(LanePlan {
        name: placed(name.to_owned()),
        swimmers: Some(placed(5)),
        gap: Some(placed(Seconds::new(10))),
    });
    lane.starts = TimeOfDay::new(19, 15);
    for part in &mut lane.parts {
        for line in &mut part.lines {
            if let LinePlan::Set(set) = line
                && set.rest() > Seconds::ZERO
            {
                let leave = set.swim().plus(set.rest()).rounded_up_to(5);
                let said = Some(RestSaid::Of(set.rest()));
                set.spacing = Spacing::Rest { said, leave_on: Some(leave) };
            }
        }
    }
    plan(lane)
}

/// Sixty sets, and a rounds group that no card holds.
pub fn endless() -> Plan {
    let long = |n: u32| -> Vec<LinePlan> {
        (0..n)
            .map(|i| swim(2 + i % 7, 1 + i % 4).rest(10 + i).cue("even and long").into())
            .collect()
    };
    session(
        "Sixty",
        "stay with it",
        metres(50),
        vec![
            part(PartKind::WarmUp, long(8)),
            part(PartKind::MainSet, vec![rounds(2, long(24)), rounds(3, vec![rounds(2, long(2))])]),
            part(PartKind::CoolDown, long(26)),
        ],
    )
}

/// A cue of 200 characters.
pub fn long_cue() -> Plan {
    let cue: String = "kick from the hip, roll to each side, reach long, ".repeat(4);
    session(
        "Talk",
        "reach",
        metres(25),
        vec![part(
            PartKind::MainSet,
            vec![
                swim(4, 4).rest(20).cue(cue.trim()).into(),
                swim(4, 4).on(150, &[60, 30]).cue(cue.trim()).into(),
            ],
        )],
    )
}

/// All of them, by name.
pub fn all() -> Vec<(&'static str, Plan)> {
    vec![
        ("ordinary", ordinary()),
        ("sparse", sparse()),
        ("short", short()),
        ("crowded", crowded()),
        ("words", words()),
        ("lane", lane()),
        ("endless", endless()),
        ("long-cue", long_cue()),
    ]
}
