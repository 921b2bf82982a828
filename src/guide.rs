//! How to use deckcard as a library: from the text of a session to a PDF, step by step.
//!
//! There is no code in this module. Each example runs as it is printed here.
//!
//! # Choose features
//!
//! | feature | brings | crates it needs |
//! |---|---|---|
//! | `cli` (on unless you say otherwise) | the `deckcard` program and all the features below | `clap`, `clap_complete`, `indicatif`, `tempfile` |
//! | `excerpts` | findings drawn over the lines of the file: `finding::human` | `annotate-snippets` |
//! | `roster` | lists of swimmers read from CSV and split into lanes | `encoding_rs` |
//! | `calendar` | a block's sessions as an iCalendar file | `icalendar` |
//! | `pictures` | pages of a PDF drawn as PNG | `hayro` |
//!
//! Without features the library goes from [`source`](crate::source) to
//! [`paint::pdf`](crate::paint::pdf); that is all this page uses:
//!
//! ```toml
//! [dependencies]
//! deckcard = { version = "0.1", default-features = false }
//! ```
//!
//! # A session and what was noticed in it
//!
//! [`intake::take`](crate::intake::take) runs the stages from text to advice. Nothing in a file
//! makes it fail: what is wrong is a [`Finding`](crate::finding::Finding), with its places in the
//! text. A session with an error has no plan; one with warnings has.
//!
//! ```
//! use deckcard::{finding, intake, session, source::Source};
//!
//! let text = session::SMALLEST.replace("4 x 50 choice", "4 x 60 choice");
//! let intake = intake::take(Source::new("tuesday.toml", text));
//! assert!(intake.ready.is_none());
//! // 60 m is between two walls. Line 18 of the text is the cool-down's sets.
//! let lines = finding::short::render(&intake.findings, &intake.sources);
//! assert_eq!(
//!     lines.lines().next(),
//!     Some("tuesday.toml:18:18: error[not-whole-lengths]: \
//!           60 m is not a whole number of lengths of a 25 m pool")
//! );
//! ```
//!
//! `finding::human` draws the same over the lines of the file (feature `excerpts`),
//! `finding::json` is for scripts.
//! A club file the session names is looked for in the folder of the source's path;
//! [`intake::take_beside`](crate::intake::take_beside) takes a function that finds it elsewhere,
//! as in a database or a test.
//!
//! # Its plan, and the other pool's
//!
//! ```
//! use deckcard::{intake, plan::Worked, session, source::Source};
//!
//! let ready = intake::take(Source::new("tuesday.toml", session::SMALLEST)).ready.unwrap();
//! let worked = Worked::of(&ready.session, ready.written);
//! let plan = &worked.written.plan;
//! // 4 x 50, 12 x 50 and 4 x 50 are 1,000 m: 40 lengths of 25 m.
//! assert_eq!((plan.lengths().get(), plan.distance().with_commas()), (40, "1,000 m".to_owned()));
//! // A session for 25 m is cut for 25 yd as well, unless it says otherwise.
//! assert_eq!(worked.other.unwrap().plan.pool().to_string(), "25 yd");
//! for part in plan.parts() {
//!     for set in part.sets() {
//!         println!("{} x {} lengths, {} each", set.repeats(), set.longest().get(), set.swim());
//!     }
//! }
//! ```
//!
//! # Its cards and their PDF
//!
//! [`press::Press`](crate::press::Press) finds what a session needs besides its plan: stock,
//! words, badge and cautions. The clock is never read, so the same text gives the same bytes.
//!
//! ```
//! use deckcard::paint::pdf;
//! use deckcard::press::{Press, Wishes};
//! use deckcard::{intake, session, sheet::Sheet, source::Source};
//!
//! let mut intake = intake::take(Source::new("tuesday.toml", session::SMALLEST));
//! let ready = intake.ready.unwrap();
//! let wishes = Wishes { stock: Some("a6".into()), ..Wishes::default() };
//! let (sources, findings) = (&mut intake.sources, &mut intake.findings);
//! let press = Press::set_up(&ready.session, sources, &wishes, findings).unwrap();
//! let cards = press.cards(&ready.written, findings);
//! let sheets: Vec<Sheet> = cards.into_iter().map(Sheet::of).collect();
//! let meta = press.meta(&[ready.session.pool().value]);
//! let bytes = pdf::write(&sheets, &[], &meta).unwrap();
//! assert!(bytes.starts_with(b"%PDF-"));
//! ```
//!
//! The stages by themselves, without `intake` and `press`, are on the pages of
//! [`source`](crate::source), [`session`](crate::session), [`check`](crate::check),
//! [`plan`](crate::plan), [`card`](crate::card), [`sheet`](crate::sheet) and
//! [`paint::pdf`](crate::paint::pdf), each with an example.
//!
//! # Fitted to a time
//!
//! [`fit::fit`](crate::fit::fit) edits the text; what does not change stays as it was written.
//!
//! ```
//! use deckcard::{fit, intake, measure::Seconds, session, source::Source};
//!
//! let source = Source::new("tuesday.toml", session::SMALLEST);
//! let session = intake::take(source.clone()).ready.unwrap().session;
//! let wanted = fit::Wanted { time: Some(Seconds::new(25 * 60)), ..fit::Wanted::default() };
//! let fitted = fit::fit(&source, &session, &wanted).unwrap();
//! assert!(fitted.recut.seconds <= Seconds::new(25 * 60));
//! assert!(fitted.text.starts_with("title = \"Legs that steer\"\n"));
//! ```
//!
//! # Drafted from a wish
//!
//! ```
//! use deckcard::draft::{Library, Wish, draft};
//! use deckcard::measure::{Pace, Pool, Seconds, Unit};
//! use deckcard::session::words::{Goal, Level};
//! use deckcard::{intake, source::Source};
//!
//! let pool = Pool::whole(25, Unit::Metre).unwrap();
//! let pace = Pace { per_100: Seconds::new(150), unit: Unit::Metre };
//! let mut wish = Wish::new(Level::Improver, Goal::Technique, pool, pace);
//! wish.time = Some(Seconds::new(45 * 60));
//! let drafted = draft(&wish, &Library::built_in().unwrap()).unwrap();
//! assert!(drafted.seconds <= Seconds::new(45 * 60));
//! // The text is a session file without errors and warnings.
//! assert!(intake::take(Source::new("drafted.toml", drafted.text)).findings.is_empty());
//! ```
//!
//! # A block of weeks
//!
//! [`block::take`](crate::block::take) opens every session of a block, from files or drafted, and
//! adds up its weeks. [`block::check`](crate::block::check) takes functions that find the sessions.
//!
//! ```
//! use deckcard::{block, source::Source};
//!
//! let text = r#"
//! title = "One easy week"
//! pool  = "25 m"
//! level = "improver"
//! pace  = "2:30"
//!
//! [[week]]
//! sessions = [{ goal = "technique", minutes = 45 }, { goal = "endurance", minutes = 45 }]
//! "#;
//! let block = block::take(Source::new("block.toml", text)).checked.unwrap();
//! let [week] = block.weeks() else { panic!("one week") };
//! assert_eq!(week.sessions.len(), 2);
//! ```
