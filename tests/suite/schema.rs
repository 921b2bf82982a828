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
    let ran = Workdir::new().run(&["schema"]);
    assert_eq!(ran.exit, 0);
    serde_json::from_str(&ran.out).expect("JSON")
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
