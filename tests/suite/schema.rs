//! The schema for editors against the demo files, by a library of the registry.

use std::path::Path;

use serde_json::Value;

use crate::command::{GOOD, Workdir, demo_sessions};

/// A TOML text as the JSON an editor validates; dates become text.
pub fn as_json(text: &str) -> Value {
    fn convert(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => text.into(),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(flag) => flag.into(),
            toml::Value::Datetime(date) => date.to_string().into(),
            toml::Value::Array(items) => items.into_iter().map(convert).collect(),
            toml::Value::Table(table) => {
                table.into_iter().map(|(key, value)| (key, convert(value))).collect()
            }
        }
    }
    convert(toml::from_str(text).expect("TOML"))
}

fn schema() -> Value {
    answer(&["schema"])
}

/// The JSON that a command answers with.
fn answer(arguments: &[&str]) -> Value {
    let ran = Workdir::new().run(arguments);
    assert_eq!(ran.exit, 0, "{}", ran.err);
    serde_json::from_str(&ran.out).expect("JSON")
}

/// What `show --json` prints of the demos and of every case of the swim line's forms.
#[test]
fn what_show_prints_keeps_to_its_schema() {
    let validator = jsonschema::draft7::new(&answer(&["schema", "show"])).expect("a schema");
    let faults = |value: &Value| -> Vec<String> {
        validator.iter_errors(value).map(|fault| fault.to_string()).collect()
    };
    let demos = demo_sessions();
    let mut seen = std::collections::BTreeSet::new();
    for path in &demos {
        let shown = answer(&["show", "--json", &path.display().to_string()]);
        assert_eq!(faults(&shown), Vec::<String>::new(), "{path:?}");
        keys_of(&shown, &mut seen);
    }
    let all: Vec<String> = demos.iter().map(|path| path.display().to_string()).collect();
    let mut arguments = vec!["show", "--json"];
    arguments.extend(all.iter().map(String::as_str));
    let many = answer(&arguments);
    assert_eq!(faults(&many), Vec::<String>::new());
    // Every key that need not be there is there in some demo: the schema is held on all of them.
    for key in ["legs", "cycle", "about", "lanes", "activities", "remarks", "name"] {
        assert!(seen.contains(key), "no demo shows {key}");
    }
    // And it is none that takes anything.
    let good = &many[0];
    for (pointer, wrong) in [
        ("/distance", Value::from("400 m")),
        ("/parts/0/kind", Value::from("warmup")),
        ("/parts/0/sets/0/repeats", Value::from(0)),
        ("/parts/0/sets/0/clock", Value::from(vec![61])),
        ("/parts/0/share", Value::from(101)),
        ("/ends", Value::from("8 pm")),
    ] {
        let mut bad = good.clone();
        *bad.pointer_mut(pointer).expect(pointer) = wrong;
        assert!(!validator.is_valid(&bad), "{pointer}");
    }
    let mut odd = good.clone();
    odd["parts"][0]["sets"][0]["colour"] = "red".into();
    assert!(!validator.is_valid(&odd));
}

/// Every key of a value and of what it holds.
fn keys_of(value: &Value, into: &mut std::collections::BTreeSet<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(key, value)| {
            into.insert(key.clone());
            keys_of(value, into);
        }),
        Value::Array(items) => items.iter().for_each(|item| keys_of(item, into)),
        _ => {}
    }
}

#[test]
fn demos_are_valid_and_broken_ones_are_not() {
    let validator = jsonschema::draft7::new(&schema()).expect("a schema");
    for path in demo_sessions() {
        let text = std::fs::read_to_string(&path).expect("a demo");
        let faults: Vec<String> =
            validator.iter_errors(&as_json(&text)).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{path:?}: {faults:?}");
    }
    assert!(validator.is_valid(&as_json(GOOD)));
    for id in ["unknown-key", "missing-key", "wrong-kind", "unknown-word", "empty-text"] {
        let path =
            Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("demo-data/findings/{id}.toml"));
        let text = std::fs::read_to_string(&path).expect("a bad demo");
        assert!(!validator.is_valid(&as_json(&text)), "{id}");
    }
}

#[test]
fn the_schema_beside_the_demos_is_up_to_date() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/sessions/session.schema.json");
    expect_test::expect_file![file].assert_eq(&format!("{:#}\n", schema()));
}
