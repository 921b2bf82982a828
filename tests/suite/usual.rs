//! What is usual in a club, taken up by sessions that leave it out.

use crate::command::Workdir;

/// The club's own pool is 20 yd; paces are said bare and with their unit.
const CLUB: &str = r#"name = "Reed Lane Club"
pool = "20 yd"
also = "none"
pace = "2:10"
level = "improver"
booked = "60 min"
starts = "19:15"
rest = "15 s"
pool_width = "12 m"

[[lane]]
name = "Reeds"
pace = "1:40"
strokes_per_length = 14

[[lane]]
name = "Rushes"
pace = "2:00 per 100 m"
"#;

/// A session that says only what is its own; `head` stands above its parts.
fn session(head: &str, each: u32) -> String {
    format!(
        r#"title = "Usual"
club = "club.toml"
goal = "technique"
focus = "kick"
{head}
[[part]]
kind = "warm-up"
sets = ["4 x {each} free easy, rest 20 s"]
[[part]]
kind = "main set"
sets = ["4 x {each} free, rest 20 s: kick from the hip", "2 x {each} free"]
[[part]]
kind = "cool-down"
sets = ["2 x {each} choice easy, rest 20 s"]
"#
    )
}

fn folder(head: &str, each: u32) -> Workdir {
    Workdir::new().file("club.toml", CLUB).file("a.toml", session(head, each))
}

fn shown(folder: &Workdir) -> serde_json::Value {
    let run = folder.run(&["show", "--json", "a.toml"]);
    assert_eq!(run.exit, 0, "{}", run.err);
    serde_json::from_str(&run.out).expect("JSON")
}

/// The main set: its first set.
fn first_set(of: &serde_json::Value) -> &serde_json::Value {
    &of["parts"][1]["sets"][0]
}

#[test]
fn all_that_is_usual_is_taken_up() {
    let value = shown(&folder("", 40));
    assert_eq!(value["pool"], "20 yd");
    assert_eq!(value["parts"][0]["starts"], "19:15");
    // 2:10 per 100 yd: 40 yd in 52 s; by lane 40 s, and 2:00 x 0.9144 x 0.4 = 43.9 s.
    assert_eq!(first_set(&value)["swim_seconds"], 52);
    assert_eq!(value["lanes"][0]["name"], "Reeds");
    assert_eq!(first_set(&value["lanes"][0])["swim_seconds"], 40);
    assert_eq!(first_set(&value["lanes"][1])["swim_seconds"], 44);
    // The rest that nobody said is the club's.
    assert_eq!(value["parts"][1]["sets"][1]["rest_seconds"], 15);
    // There is no other pool.
    assert_eq!(value["versions"], serde_json::json!([]));
}

/// International yard: 0.9144 m. 1:40 for 100 yd are 100 / 0.9144 = 109.4 s for 100 m, 2:10 are 142.2 s.
#[test]
fn a_club_of_yards_is_converted_in_a_pool_of_metres() {
    let value = shown(&folder("pool = \"50 m\"", 100));
    assert_eq!(value["pool"], "50 m");
    assert_eq!(first_set(&value)["swim_seconds"], 142);
    assert_eq!(first_set(&value["lanes"][0])["swim_seconds"], 109);
    assert_eq!(first_set(&value["lanes"][1])["swim_seconds"], 120);
}

#[test]
fn what_a_session_says_itself_stands() {
    let own = "pool = \"25 m\"\nalso = \"25 yd\"\npace = \"2:00\"\nstarts = \"7:00\"\nlane = []";
    let value = shown(&folder(own, 100));
    assert_eq!(first_set(&value)["swim_seconds"], 120);
    assert_eq!(value["lanes"], serde_json::json!([]));
    assert_eq!(value["parts"][0]["starts"], "07:00");
    assert_eq!(value["versions"][0]["pool"], "25 yd");
}

/// A lane of the session's own beside a pace of the club's is of the session's own pool.
#[test]
fn a_bare_pace_of_an_own_lane_is_of_the_sessions_pool() {
    let head = "pool = \"25 m\"\nlane = [{ name = \"One\", pace = \"1:40\" }]\n";
    let folder = folder(head, 100);
    assert_eq!(first_set(&shown(&folder)["lanes"][0])["swim_seconds"], 100);
    // Moved to yards it stays what it is: 100 x 0.9144 = 91.4 s.
    let fit = folder.run(&["fit", "a.toml", "--pool", "25 yd", "-o", "b.toml"]);
    assert_eq!(fit.exit, 0, "{}", fit.err);
    assert!(fit.err.contains("pace of One: it stays 1:40 per 100 m"), "{}", fit.err);
    let moved = folder.run(&["show", "--json", "b.toml"]);
    let moved: serde_json::Value = serde_json::from_str(&moved.out).expect("JSON");
    assert_eq!(first_set(&moved["lanes"][0])["swim_seconds"], 91);
}

/// Twelve metres are 13.1 yd: six times two widths 156 yd.
#[test]
fn widths_are_as_wide_as_the_club_says() {
    let folder = folder("", 40);
    let widths = session("", 40).replace("\"2 x 40 free\"", "\"6 x 2 widths free\"");
    let folder = folder.file("a.toml", widths);
    assert_eq!(shown(&folder)["parts"][1]["sets"][1]["distance"], 156);
}

/// Race pace is hard for this club, a factor of 0.92 on 52 s: 47.84 s for 40 yd; "cruise" is steady. The
/// coach's own word is what the card has.
#[test]
fn a_club_has_words_of_its_own_for_efforts() {
    let words = "efforts = [{ word = \"Red line\", counts = \"hard\" }, { word = \"cruise\", counts = \"steady\" }]\n\n[[lane]]";
    let text = session("", 40).replace(
        "\"2 x 40 free\"",
        "\"2 x 40 free red line, rest 20 s\", { swim = \"2 x 40 free\", effort = \"RED  line\", rest = \"20 s\" }, \
         \"2 x 80 free (40 cruise, 40 red line), rest 20 s\"",
    );
    let club = CLUB.replacen("[[lane]]", words, 1);
    let folder = Workdir::new().file("club.toml", &club).file("a.toml", text);
    let value = shown(&folder);
    let sets = &value["parts"][1]["sets"];
    // 52 s and 47.84 s.
    let seconds = [1, 2, 3].map(|nth| sets[nth]["swim_seconds"].as_u64());
    assert_eq!(seconds, [Some(48), Some(48), Some(100)]);
    let table = folder.run(&["show", "a.toml"]).out;
    assert!(table.contains("red line"), "{table}");
    // A word that nobody knows is still told, and the program's five stay what they are.
    let folder = folder.file("club.toml", CLUB);
    assert!(folder.run(&["check", "a.toml"]).err.contains("error[unknown-word]"));
    let twisted = club.replace("Red line", "easy");
    let told = folder.file("club.toml", twisted).run(&["check", "club.toml"]);
    assert!(told.err.contains("\"easy\" is one of the program's own efforts"), "{}", told.err);
}

#[test]
fn a_fit_leaves_the_club_file_alone() {
    let folder = folder("", 40);
    let fit = folder.run(&["fit", "a.toml", "--pool", "25 yd", "--minutes", "30", "-o", "b.toml"]);
    assert_eq!(fit.exit, 0, "{}", fit.err);
    let text = std::fs::read_to_string(folder.path("b.toml")).expect("the fitted file");
    assert!(
        text.starts_with("title = \"Usual\"\nbooked = \"30 min\"\npool = \"25 yd\"\nclub = "),
        "{text}"
    );
    let club = std::fs::read_to_string(folder.path("club.toml")).expect("the club file");
    assert_eq!(club, CLUB);
}

#[test]
fn what_neither_file_says_is_told_with_both_places() {
    let folder = folder("", 40).file("club.toml", "name = \"Reed Lane Club\"\n");
    let run = folder.run(&["check", "a.toml"]);
    assert_eq!(run.exit, 1);
    for key in ["pool", "level", "pace"] {
        assert!(run.err.contains(&format!("a session needs {key}")), "{}", run.err);
    }
    assert!(run.err.contains("or have it in the club file"), "{}", run.err);
    // A pace without a pool is per 100 of what?
    let folder = folder.file("club.toml", "name = \"Reed Lane Club\"\npace = \"2:10\"\n");
    let run = folder.run(&["check", "a.toml"]);
    assert!(run.err.contains("error[pace-without-unit]"), "{}", run.err);
}
