//! Binders: what is on their pages, and the ways to them.

use std::collections::BTreeMap;
use std::path::Path;

use deckcard::binder::{Binder, BinderSession, BinderWeek, Binding, Outline, Sides, bind, gather};
use deckcard::card::{Extras, compose};
use deckcard::drawing::{Area, Item, Mark, Role, Step};
use deckcard::intake;
use deckcard::measure::{Distance, Lengths, Pool, Unit};
use deckcard::paint::pdf::{self, Meta};
use deckcard::stock::Stock;
use deckcard::typeset::face;
use deckcard::words::Words;
use lopdf::{Document, Object, ObjectId};

use crate::command::{GOOD, Workdir, demo_sessions};
use crate::support::reader;

fn words() -> Words {
    Words::named("en").expect("listed").expect("reads")
}

fn stock(name: &str) -> Stock {
    Stock::named(name).expect("listed").expect("reads")
}

/// The demo sessions of the 25 m pool, two a week; every third week marked as an easier one.
fn outline(binding: &Binding) -> Outline {
    let pool = Pool::whole(25, Unit::Metre).expect("a pool");
    let mut sessions = Vec::new();
    for path in demo_sessions() {
        let ready = intake::open(&path).expect("a file").ready.expect("a session");
        if ready.session.pool().value != pool {
            continue;
        }
        let plan = &ready.written.plan;
        let stock = binding.card_stock();
        let cards = ready
            .written
            .printed()
            .iter()
            .flat_map(|plan| compose(plan, &Extras::default(), &stock, &words()).cards);
        let sets = plan.parts().iter().flat_map(|part| part.sets());
        sessions.push(BinderSession {
            title: plan.title().value.clone(),
            date: plan.date(),
            distance: plan.distance(),
            is_about: plan.is_about(),
            longest: sets.map(|set| set.longest()).max().unwrap_or(Lengths::new(0)),
            cards: cards.collect(),
        });
    }
    let weeks = sessions.chunks(2).enumerate().map(|(index, sessions)| BinderWeek {
        number: index as u32 + 1,
        title: None,
        easier: index % 3 == 2,
        sessions: sessions.to_vec(),
    });
    Outline {
        title: "Five weeks of evenings".into(),
        club: Some("Hernmarsh Lane Club".into()),
        goal: Some(Distance::whole(400, Unit::Metre)),
        note: None,
        pool,
        weeks: weeks.collect(),
    }
}

/// Whether a week is easier, and of each session its lengths and longest swim.
type PlainWeek<'a> = (bool, &'a [(u32, u32)]);

/// Weeks of sessions without cards, for pages that hold none.
fn plain_outline(weeks: &[PlainWeek]) -> Outline {
    let session = |(index, (lengths, longest)): (usize, &(u32, u32))| BinderSession {
        title: format!("Evening {}", index + 1),
        date: None,
        distance: Distance::whole(u64::from(*lengths) * 25, Unit::Metre),
        is_about: false,
        longest: Lengths::new(*longest),
        cards: Vec::new(),
    };
    let week = |(index, (easier, sessions)): (usize, &PlainWeek)| BinderWeek {
        number: index as u32 + 1,
        title: None,
        easier: *easier,
        sessions: sessions.iter().enumerate().map(session).collect(),
    };
    Outline {
        title: "A block".into(),
        club: None,
        goal: None,
        note: None,
        pool: Pool::whole(25, Unit::Metre).expect("a pool"),
        weeks: weeks.iter().enumerate().map(week).collect(),
    }
}

fn bytes(binder: &Binder) -> Vec<u8> {
    let meta = Meta { title: "A block".into(), language: "en".into(), made: None };
    pdf::write(&binder.sheets, &binder.bookmarks, &meta).expect("a PDF")
}

/// A binder of the demo sessions on A5.
fn demo_binder(sides: Sides) -> (Outline, Binder) {
    let binding = Binding::new(stock("binder-a5"), sides);
    let outline = outline(&binding);
    let binder = bind(&outline, &binding, &words());
    (outline, binder)
}

/// What the running line of each page should say: contents, charts, then the weeks.
fn running_lines(outline: &Outline, contents: usize) -> Vec<String> {
    let mut lines = vec!["Contents".to_owned(); contents];
    lines.push("The weeks as a whole".into());
    for week in &outline.weeks {
        for (index, session) in week.sessions.iter().enumerate() {
            let line = format!("Week {}, session {}", week.number, index + 1);
            lines.extend(vec![line; session.cards.len()]);
        }
        // Up to three sessions of the demo share a log page.
        lines.push(format!("Week {}, log", week.number));
    }
    lines
}

/// The page a destination leads to, counted from 0.
fn page_of(destination: &Object, pages: &BTreeMap<u32, ObjectId>) -> usize {
    let array = destination.as_array().expect("a destination");
    let page = array[0].as_reference().expect("a page");
    pages.values().position(|id| *id == page).expect("a page of the document")
}

#[test]
fn pages_come_in_order_and_carry_their_numbers() {
    let (outline, binder) = demo_binder(Sides::Both);
    let pages = reader::read(&bytes(&binder));
    let lines = running_lines(&outline, 1);
    assert_eq!(pages.len(), lines.len());
    for (index, (page, line)) in pages.iter().zip(&lines).enumerate() {
        let begins = format!("{line} {}", index + 1);
        assert!(page.text.starts_with(&begins), "{begins}: {}", page.text);
    }
}

#[test]
fn every_line_of_the_contents_leads_to_its_session() {
    let (outline, binder) = demo_binder(Sides::Both);
    let bytes = bytes(&binder);
    let document = Document::load_mem(&bytes).expect("a PDF");
    let text = reader::read(&bytes);
    let pages = document.get_pages();
    let first = document.get_dictionary(pages[&1]).expect("a page");
    let annotations = first.get(b"Annots").and_then(Object::as_array).expect("links");
    let sessions: Vec<&BinderSession> =
        outline.weeks.iter().flat_map(|week| &week.sessions).collect();
    assert_eq!(annotations.len(), sessions.len());
    let mut last_top = f32::INFINITY;
    for (annotation, session) in annotations.iter().zip(sessions) {
        let id = annotation.as_reference().expect("an annotation");
        let link = document.get_dictionary(id).expect("an annotation");
        let page = page_of(link.get(b"Dest").expect("a destination"), &pages);
        assert!(text[page].text.contains(&session.title), "{}", session.title);
        // The number printed at the end of the line is the page's own.
        let about = if session.is_about { "about " } else { "" };
        let total = format!("{about}{}", session.distance.with_commas());
        let printed = format!("{total} {}", page + 1);
        let line = text[0].text.split(&session.title).nth(1).expect("its line");
        if let Some(date) = session.date {
            let (_, _, day) = date.parts();
            assert!(line.trim_start().starts_with(&day.to_string()), "{line}");
        }
        assert!(line.contains(&printed), "{printed}: {line}");
        // In order, one below the other.
        let area = link.get(b"Rect").and_then(Object::as_array).expect("an area");
        let top = area[3].as_float().expect("a number");
        assert!(top < last_top);
        last_top = top;
    }
}

#[test]
fn bookmarks_lead_to_the_weeks_and_their_sessions() {
    let (outline, binder) = demo_binder(Sides::Both);
    let bytes = bytes(&binder);
    let document = Document::load_mem(&bytes).expect("a PDF");
    let text = reader::read(&bytes);
    let pages = document.get_pages();
    let catalog = document.catalog().expect("a catalog");
    let dictionary = |id: &Object| {
        document.get_dictionary(id.as_reference().expect("a reference")).expect("an entry")
    };
    let root = dictionary(catalog.get(b"Outlines").expect("an outline"));
    let siblings = |parent: &lopdf::Dictionary| {
        let mut entries = Vec::new();
        let mut next = parent.get(b"First").ok().cloned();
        while let Some(id) = next {
            let entry = dictionary(&id).clone();
            next = entry.get(b"Next").ok().cloned();
            entries.push(entry);
        }
        entries
    };
    let title = |entry: &lopdf::Dictionary| {
        lopdf::decode_text_string(entry.get(b"Title").expect("a title")).expect("text")
    };
    let top = siblings(root);
    let titles: Vec<String> = top.iter().map(title).collect();
    let weeks = outline.weeks.iter().map(|week| format!("Week {}", week.number));
    let expected: Vec<String> = ["Contents".to_owned(), "The weeks as a whole".to_owned()]
        .into_iter()
        .chain(weeks)
        .collect();
    assert_eq!(titles, expected);
    for (entry, week) in top[2..].iter().zip(&outline.weeks) {
        let below = siblings(entry);
        assert_eq!(below.len(), week.sessions.len() + 1);
        for (index, (entry, session)) in below.iter().zip(&week.sessions).enumerate() {
            assert_eq!(title(entry), format!("{}. {}", index + 1, session.title));
            let page = page_of(entry.get(b"Dest").expect("a destination"), &pages);
            let line = format!("Week {}, session {}", week.number, index + 1);
            assert!(text[page].text.starts_with(&line));
            assert!(page == 0 || !text[page - 1].text.starts_with(&line), "the first of its cards");
        }
        let log = below.last().expect("a log");
        let page = page_of(log.get(b"Dest").expect("a destination"), &pages);
        assert!(text[page].text.starts_with(&format!("Week {}, log", week.number)));
    }
}

#[test]
fn charts_are_told_in_words() {
    // 20 + 28 lengths of 25 m are 1,200 m, 24 + 30 are 1,350 m, 16 + 20 are 900 m;
    // the longest swims are 8, 12 and 6 lengths: 200, 300 and 150 m.
    let outline = plain_outline(&[
        (false, &[(20, 4), (28, 8)]),
        (false, &[(24, 12), (30, 8)]),
        (true, &[(16, 6), (20, 4)]),
    ]);
    let binding = Binding::new(stock("binder-a5"), Sides::Both);
    let binder = bind(&outline, &binding, &words());
    let mut told: Vec<&str> = items(&binder.sheets[1])
        .filter_map(|item| match &item.role {
            Role::Figure(text) => Some(text.as_str()),
            _ => None,
        })
        .collect();
    // The marks of one figure follow each other.
    told.dedup();
    assert_eq!(
        told,
        [
            "Chart. Distance each week, m: week 1, 1,200; week 2, 1,350; week 3, 900.",
            "Chart. Longest swim without a stop, m: week 1, 200; week 2, 300; week 3, 150.",
        ]
    );
    let text = reader::read(&bytes(&binder)).remove(1).text;
    assert!(text.contains("Outlined: an easier week."));
    // 1,350 on a scale of 500 up to 1,500; 300 on one of 50 up to 300.
    for number in ["0", "500", "1,000", "1,500", "50", "100", "250", "300"] {
        assert!(text.contains(number), "{number}: {text}");
    }
}

/// Its title, its note and a week's title each speak of another thing; all three cautions are
/// below the figures of the contents, as the card words them.
#[test]
fn the_contents_of_a_binder_carry_the_cautions_its_own_titles_call_for() {
    let binding = Binding::new(stock("binder-a5"), Sides::Both);
    let mut outline = plain_outline(&[(false, &[(20, 4)]), (false, &[(24, 4)])]);
    let text = |outline: &Outline| {
        let pages = reader::read(&bytes(&bind(outline, &binding, &words())));
        pages[0].text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let cautions = ["Do not hold your breath", "Start from the water", "Ask a lifeguard where"];
    let plain = text(&outline);
    assert!(cautions.iter().all(|caution| !plain.contains(caution)), "{plain}");
    outline.title = "Hypoxic month".into();
    outline.note = Some("race starts on the last day".into());
    outline.weeks[1].title = Some("vertical kick week".into());
    let cautioned = text(&outline);
    assert!(cautions.iter().all(|caution| cautioned.contains(caution)), "{cautioned}");
}

#[test]
fn the_same_outline_gives_the_same_bytes() {
    let (_, first) = demo_binder(Sides::Both);
    let (_, second) = demo_binder(Sides::Both);
    assert!(bytes(&first) == bytes(&second));
}

#[test]
fn logs_ask_in_the_cards_own_words() {
    let (outline, binder) = demo_binder(Sides::Both);
    let pages = reader::read(&bytes(&binder));
    let logs: Vec<_> = pages.iter().filter(|page| page.text.contains("Log of week")).collect();
    assert_eq!(logs.len(), outline.weeks.len());
    for (log, week) in logs.iter().zip(&outline.weeks) {
        for session in &week.sessions {
            assert!(log.text.contains(&session.title));
        }
        for word in ["date", "strokes", "times", "easy", "steady", "strong", "hard"] {
            assert!(log.text.matches(word).count() >= week.sessions.len(), "{word}");
        }
        assert!(!log.text.contains("sprint"), "nothing feels sprint");
    }
}

/// The good session takes 38:45 min: what it says of the time comes from the block alone.
#[test]
fn cards_of_a_block_carry_its_day_and_its_time() {
    let block = "title = \"T\"\nbegins = 2027-01-11\ndays = [\"tue\"]\nstarts = \"19:15\"\n\
                 [[week]]\nsessions = [\"s.toml\", { file = \"s.toml\", date = 2027-01-14, starts = \"6:30\" }]\n";
    let workdir = Workdir::new().file("s.toml", GOOD).file("block.toml", block);
    let ran = workdir.run(&["binder", "block.toml", "--as-written", "-o", "b.pdf"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let pages = reader::read(&std::fs::read(workdir.path("b.pdf")).expect("a PDF"));
    let card = |running: &str| {
        let page = pages.iter().find(|page| page.text.starts_with(running));
        page.unwrap_or_else(|| panic!("no {running}")).text.clone()
    };
    // 4 x 25 m at 2:30 per 100 m in easy effort are 4 x (41 + 20) s (37.5 s x 1.1 = 41.25);
    // with the changeover of 30 s the main set begins 4:34 after the start.
    let (tuesday, thursday) = (card("Week 1, session 1"), card("Week 1, session 2"));
    for text in ["12 Jan 2027", "19:15", "19:19"] {
        assert!(tuesday.contains(text), "{text}: {tuesday}");
    }
    for text in ["14 Jan 2027", "06:30", "06:34"] {
        assert!(thursday.contains(text), "{text}: {thursday}");
    }
}

/// By hand: 4 x 100 without a rest are one swim of 400 m, sixteen lengths, or in yards 4 x 100 yd,
/// sixteen again. The kick of 600 m is longer, and is no swim.
#[test]
fn the_longest_swim_of_a_binder_is_the_blocks_own_figure() {
    let session = GOOD.replace(
        "{ swim = \"8 x 50 free\", rest = \"20 s\", cue = \"kick from the hip\" },",
        "{ swim = \"4 x 100 free\", rest = \"0 s\", cue = \"kick from the hip\" },\n  \
         { swim = \"600 kick\", rest = \"30 s\" },",
    );
    assert_ne!(session, GOOD);
    let text = "title = \"T\"\n[[week]]\nsessions = [\"s.toml\"]\n";
    let workdir = Workdir::new().file("s.toml", &session).file("block.toml", text);
    let block = deckcard::block::open(&workdir.path("block.toml")).expect("a file").checked;
    let block = block.expect("a block without errors");
    let of_block = block.weeks()[0].sessions[0].longest;
    assert_eq!(of_block, Distance::whole(400, Unit::Metre));
    for (stock_name, unit) in [("binder-a5", Unit::Metre), ("binder-half-letter", Unit::Yard)] {
        let binding = Binding::new(stock(stock_name), Sides::Both);
        let pool = Pool::whole(25, unit).expect("a pool");
        let (outline, _) = gather(&block, pool, &binding).outline.expect("no errors");
        assert_eq!(outline.weeks[0].sessions[0].longest, Lengths::new(16), "{unit}");
    }
}

fn items(sheet: &deckcard::sheet::Sheet) -> impl Iterator<Item = &Item> {
    sheet.placed().iter().flat_map(|placed| placed.card.items())
}

/// Where the ink of an item is.
fn ink(item: &Item) -> Option<Area> {
    let of_points = |points: Vec<deckcard::drawing::Point>, reach_pt: f32| {
        let mut area: Option<Area> = None;
        for point in points {
            let (x, y) = (point.x_pt, point.y_pt);
            let this = Area {
                left_pt: x - reach_pt,
                top_pt: y - reach_pt,
                right_pt: x + reach_pt,
                bottom_pt: y + reach_pt,
            };
            area = Some(area.map_or(this, |all| Area {
                left_pt: all.left_pt.min(this.left_pt),
                top_pt: all.top_pt.min(this.top_pt),
                right_pt: all.right_pt.max(this.right_pt),
                bottom_pt: all.bottom_pt.max(this.bottom_pt),
            }));
        }
        area
    };
    let points = |path: &deckcard::drawing::Path| {
        let point = |step: &Step| match step {
            Step::Move(p) | Step::Line(p) | Step::Curve(_, _, p) => Some(*p),
            Step::Close => None,
        };
        path.0.iter().filter_map(point).collect::<Vec<_>>()
    };
    match &item.mark {
        Mark::Text(run) => face::ink_box(run).map(|(left_pt, top_pt, right_pt, bottom_pt)| Area {
            left_pt,
            top_pt,
            right_pt,
            bottom_pt,
        }),
        Mark::Fill(path, _) => of_points(points(path), 0.0),
        // Open lines end square on their last point; the others reach half their width further.
        Mark::Stroke(path, width_pt, _) if path.0.len() > 2 => {
            of_points(points(path), width_pt / 2.0)
        }
        Mark::Stroke(path, ..) => of_points(points(path), 0.0),
        Mark::Picture(at, size, _) => Some(Area {
            left_pt: at.x_pt,
            top_pt: at.y_pt,
            right_pt: at.x_pt + size.width_pt,
            bottom_pt: at.y_pt + size.height_pt,
        }),
        Mark::Dial(at, width_pt, _) => Some(Area {
            left_pt: at.x_pt,
            top_pt: at.y_pt,
            right_pt: at.x_pt + width_pt,
            bottom_pt: at.y_pt + width_pt,
        }),
    }
}

const PT_PER_MM: f32 = 72.0 / 25.4;

/// Everything on A5 keeps 8 mm from three edges and 17 mm from the bound one: ISO 838 puts the
/// centres of holes 12 mm from it, 6 mm wide, and 2 mm are kept clear beyond them.
fn holds(binder: &Binder, bound_right: impl Fn(usize) -> bool) {
    for (index, sheet) in binder.sheets.iter().enumerate() {
        let (left, right) = if bound_right(index) { (8.0, 17.0) } else { (17.0, 8.0) };
        for item in items(sheet) {
            let Some(ink) = ink(item) else { continue };
            let slack = 0.3;
            let inside = ink.left_pt > left * PT_PER_MM - slack
                && ink.right_pt < (148.0 - right) * PT_PER_MM + slack
                && ink.top_pt > 8.0 * PT_PER_MM - slack
                && ink.bottom_pt < (210.0 - 8.0) * PT_PER_MM + slack;
            assert!(inside, "page {}: {ink:?} {:?}", index + 1, item.role);
        }
        for link in sheet.links() {
            assert!(link.area.left_pt >= 0.0 && link.area.bottom_pt <= sheet.paper().height_pt);
            assert!(link.page < binder.sheets.len());
        }
    }
}

#[test]
fn margins_change_sides_with_the_leaf_and_holes_stay_clear() {
    holds(&demo_binder(Sides::Both).1, |index| index % 2 == 1);
    holds(&demo_binder(Sides::One).1, |_| false);
}

#[test]
fn long_blocks_and_long_titles_stay_on_their_pages() {
    let week: &[(u32, u32)] = &[(40, 8); 7];
    let mut outline = plain_outline(&vec![(false, week); 52]);
    for week in &mut outline.weeks {
        for session in &mut week.sessions {
            session.title = "Kick from the hip, toes long, head still, and breathe ".repeat(4);
        }
    }
    outline.title = "Fifty-two weeks of it ".repeat(9);
    outline.weeks[3].sessions.clear();
    let binding = Binding::new(stock("binder-a5"), Sides::Both);
    let binder = bind(&outline, &binding, &words());
    holds(&binder, |index| index % 2 == 1);
    let bytes = bytes(&binder);
    let pages = reader::read(&bytes);
    assert_eq!(pages.len(), binder.sheets.len());
    for (index, page) in pages.iter().enumerate() {
        let number = format!(" {}", index + 1);
        assert!(page.text.contains(&number));
    }
}

#[test]
fn type_is_large_enough_for_its_distance() {
    // ISO 9241-303: capitals of 16' at 500 mm are 2 x 500 x tan(8') = 2.327 mm high.
    let least_pt = 2.3271 * PT_PER_MM;
    let outline = plain_outline(&[(false, &[(20, 4), (28, 8)])]);
    let binding = Binding::new(stock("binder-a5"), Sides::Both);
    let binder = bind(&outline, &binding, &words());
    for item in binder.sheets.iter().flat_map(items) {
        if let Mark::Text(run) = &item.mark {
            assert!(run.size_pt * run.font.cap_ratio() > least_pt - 0.01, "{}", run.text);
        }
    }
}

/// A demo block, where the program is run.
fn block(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/blocks").join(name);
    folder.join("block.toml").to_string_lossy().into_owned()
}

#[test]
fn a_block_is_bound_for_both_pools() {
    let workdir = Workdir::new();
    let ran = workdir.run(&["binder", &block("first-400"), "-o", "out", "--ics", "days.ics"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let metres =
        std::fs::read(workdir.path("out/first-400-ten-weeks-to-400-m-without-a-stop-25m.pdf"))
            .expect("a binder");
    let yards =
        std::fs::read(workdir.path("out/first-400-ten-weeks-to-400-m-without-a-stop-25yd.pdf"))
            .expect("a binder");
    for (bytes, pool) in [(&metres, "25 m"), (&yards, "25 yd")] {
        let pages = reader::read(bytes);
        assert!(pages[0].text.contains(&format!("{pool} pool")), "{}", pages[0].text);
        // ISO 216: A5 is 148 x 210 mm. The paper is the country's, whatever the pool.
        assert!((pages[0].size_pt.0 - 419.5276).abs() < 0.001);
        assert!(pages[0].text.contains("Goal: 400 m without a stop"));
        for (index, page) in pages.iter().enumerate() {
            assert!(page.text.contains(&format!(" {}", index + 1)));
        }
        assert!(pages.iter().any(|page| page.text.starts_with("Week 10, session 2")));
    }
    let calendar = std::fs::read_to_string(workdir.path("days.ics")).expect("a calendar");
    // Ten weeks of two sessions.
    assert_eq!(calendar.matches("BEGIN:VEVENT").count(), 20);
}

#[test]
fn yards_are_bound_on_half_letter_and_a_file_is_named_as_asked() {
    let workdir = Workdir::new();
    let ran = workdir.run(&["binder", &block("masters-month"), "--as-written", "-o", "month.pdf"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let bytes = std::fs::read(workdir.path("month.pdf")).expect("a binder");
    // 5.5 x 8.5 in at 72 points to the inch.
    assert_eq!(reader::read(&bytes)[0].size_pt, (396.0, 612.0));
    let ran =
        workdir.run(&["binder", &block("masters-month"), "--stock", "a55", "-o", "month.pdf"]);
    assert_eq!(ran.exit, 2);
    assert!(ran.err.contains("there is no such stock"), "{}", ran.err);
}

#[test]
fn a_file_that_is_no_block_is_named_for_what_it_is() {
    let club = "name = \"Hernmarsh Lane Club\"\n";
    let workdir = Workdir::new().file("s.toml", GOOD).file("club.toml", club);
    for (file, kind) in [("s.toml", "a session file"), ("club.toml", "a club file")] {
        for command in [&["binder", file][..], &["block", "check", file], &["block", "show", file]]
        {
            let ran = workdir.run(command);
            assert_eq!(ran.exit, 2, "{command:?}");
            assert!(ran.err.contains(&format!("{file} is {kind} and no block")), "{}", ran.err);
            assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
        }
    }
}

/// A swim of less than a length counts in the contents and in the log as it does on its card, and what
/// follows from a time is about so far.
#[test]
fn totals_are_those_of_the_cards() {
    let weekly = |name: &str| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/weekly");
        std::fs::read_to_string(folder.join(name)).expect("a weekly session")
    };
    let block = "title = \"Two evenings\"\n[[week]]\nsessions = [\"a.toml\", \"b.toml\"]\n";
    let workdir = Workdir::new()
        .file("block.toml", block)
        .file("a.toml", weekly("sprint-thursday.toml"))
        .file("b.toml", weekly("clock-night.toml"));
    let ran = workdir.run(&["binder", "block.toml", "--as-written", "-o", "out.pdf"]);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    let pages = reader::read(&std::fs::read(workdir.path("out.pdf")).expect("a binder"));
    let says = |text: &str| pages.iter().filter(|page| page.text.contains(text)).count();
    // By hand: 1,850 m of whole lengths and 4 x 15 m; on the contents, the card and the log.
    assert_eq!(says("1,910 m"), 3, "the contents, the card and the log");
    assert_eq!(says("about 2,725 m"), 3, "the contents, the card and the log");
    assert!(says("about 4,635 m") >= 1, "the week's total");
}
