//! What `show --json` prints, from its schema.

use serde_json::{Map, Value};

use super::{code, table};
use crate::report::json::SCHEMA;

/// A heading for each object of the schema, in the order in which they hold each other.
const OBJECTS: [(&str, &str); 9] = [
    ("session", "A session"),
    ("version", "The other pool's version"),
    ("lane", "A lane's version"),
    ("part", "A part"),
    ("set", "A set"),
    ("repeat", "A repeat of a cycle"),
    ("leg", "A leg"),
    ("activity", "An activity"),
    ("change", "A change"),
];

pub(super) fn json() -> String {
    let mut text = String::from(
        "`deckcard show --json` prints a session as JSON; of several files, an array. Keys may be added in \
         later versions, and none is taken away. `deckcard schema show` prints the schema that holds \
         it, [show.json](../../templates/schemas/show.json).\n",
    );
    let schema: Value = serde_json::from_str(SCHEMA).unwrap_or_default();
    let own = properties(&schema, "session");
    for (name, heading) in OBJECTS {
        let object = schema.pointer(&format!("/definitions/{name}"));
        let required = object.and_then(|object| object.get("required")).and_then(Value::as_array);
        let always = |key: &str| required.is_some_and(|keys| keys.iter().any(|k| k == key));
        let about = object.and_then(|object| object.get("description")).and_then(Value::as_str);
        let all = properties(&schema, name);
        // What it has in common with the session is said once.
        let repeats = |key: &String| matches!(name, "version" | "lane") && own.contains_key(key);
        let rows = all.iter().filter(|(key, _)| !repeats(key)).map(|(key, value)| {
            let there = if always(key) { "always" } else { "" };
            let doc = value.get("description").and_then(Value::as_str).unwrap_or_default();
            [code(key), there.to_owned(), doc.to_owned()]
        });
        text += &format!("\n### {heading}\n\n{}\n", about.unwrap_or_default());
        let rows: Vec<_> = rows.collect();
        if !rows.is_empty() {
            text += "\n";
            text += &table(["key", "", "what it is"], rows);
        }
    }
    text
}

fn properties(schema: &Value, name: &str) -> Map<String, Value> {
    let at = format!("/definitions/{name}/properties");
    schema.pointer(&at).and_then(Value::as_object).cloned().unwrap_or_default()
}
