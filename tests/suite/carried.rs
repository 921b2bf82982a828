//! Every form of the swim line from the file to the paper: read, timed, recut, printed, and read back
//! from the PDF. Rows that a non-programmer can add to.

use std::path::Path;

use serde::Deserialize;
use serde_json::Value;

use crate::command::Workdir;
use crate::support::reader;

#[derive(Deserialize)]
struct Rows {
    row: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    set: String,
    distance: f64,
    seconds: u64,
    #[serde(default)]
    yards: Vec<String>,
    card: Vec<String>,
    #[serde(default)]
    about: bool,
}

fn rows() -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/forms/carried.toml");
    let text = std::fs::read_to_string(path).expect("the rows");
    toml::from_str::<Rows>(&text).expect("rows").row
}

fn session(set: &str) -> String {
    format!(
        "title = \"Carried\"\npool = \"25 m\"\nlevel = \"advanced\"\ngoal = \"endurance\"\nfocus = \"turns\"\n\
         pace = \"2:00\"\n[[part]]\nkind = \"warm-up\"\n\
         sets = [{{ swim = \"4 x 100 choice\", rest = \"20 s\", effort = \"easy\" }}]\n\
         [[part]]\nkind = \"main set\"\nsets = [\n  {set},\n]\n"
    )
}

/// The sets of the main set, in a version of the JSON.
fn sets(version: &Value) -> &Vec<Value> {
    version["parts"][1]["sets"].as_array().expect("sets")
}

fn sum(sets: &[Value], key: &str) -> f64 {
    sets.iter().map(|set| set[key].as_f64().expect(key)).sum()
}

/// The words of a PDF without the gaps between them.
fn printed(workdir: &Workdir, name: &str) -> String {
    let bytes = std::fs::read(workdir.path(name)).expect(name);
    let pages = reader::read(&bytes);
    let text: String = pages.iter().map(|page| page.text.as_str()).collect();
    text.chars().filter(|sign| !sign.is_whitespace() && *sign != '\u{2060}').collect()
}

#[test]
fn every_form_is_carried_from_the_file_to_the_paper() {
    let mut wrong = Vec::new();
    for row in rows() {
        let workdir = Workdir::new().file("s.toml", session(&row.set));
        let shown = workdir.run(&["show", "--json", "s.toml"]);
        let ran = workdir.run(&["print", "s.toml", "-o", "cards"]);
        if shown.exit != 0 || ran.exit != 0 {
            wrong.push(format!("{}: {}", row.set, shown.err));
            continue;
        }
        let json: Value = serde_json::from_str(&shown.out).expect("JSON");
        let own = sets(&json);
        let mut expect = |what: &str, is: String, wanted: String| {
            if is != wanted {
                wrong.push(format!("{}: {what} is {is}, by hand {wanted}", row.set));
            }
        };
        expect("the distance", sum(own, "distance").to_string(), row.distance.to_string());
        expect("the time", sum(own, "seconds").to_string(), row.seconds.to_string());
        let about = own.iter().any(|set| set["about"] == true);
        expect("about", about.to_string(), row.about.to_string());
        let lines = |sets: &[Value]| -> Vec<String> {
            sets.iter().map(|set| set["swim"].as_str().expect("a line").to_owned()).collect()
        };
        let yards = lines(sets(&json["versions"][0]));
        expect("in yards", format!("{yards:?}"), format!("{:?}", row.yards));
        // What comes out is about as far: within a pair of lengths.
        let far = |version: &Value| version["distance_m"].as_f64().expect("metres");
        let off = (far(&json) - far(&json["versions"][0])).abs();
        expect("about as far", (about || off <= 50.0 * 0.9144).to_string(), "true".to_owned());
        let text = printed(&workdir, "cards/s-25m.pdf");
        for piece in &row.card {
            let there = text.contains(piece.as_str());
            expect(&format!("\"{piece}\" on the card"), there.to_string(), "true".to_owned());
            if !there {
                expect("the card", text.clone(), String::new());
            }
        }
        let text = printed(&workdir, "cards/s-25yd.pdf");
        expect("yards on the card", text.contains("25yd").to_string(), "true".to_owned());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
