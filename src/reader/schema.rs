//! A JSON Schema (draft-07) of a file, for editors, from its table of keys.

use serde_json::{Map, Value, json};

use crate::measure::LIMITS;
use crate::reader::keys::{Entry, Form, Need, Table};

/// The schema of a file whose root is `table`.
pub fn of(table: &'static Table, title: &str) -> Value {
    let mut definitions = Map::new();
    define(table, &mut definitions);
    json!({
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": title,
        "$ref": reference(table),
        "definitions": definitions,
    })
}

fn reference(table: &Table) -> String {
    format!("#/definitions/{}", name(table))
}

/// What a table is, with signs that a reference may hold.
fn name(table: &Table) -> String {
    table.what.replace([' ', '\''], "-")
}

/// Adds a table and, once each, the tables in it.
fn define(table: &'static Table, definitions: &mut Map<String, Value>) {
    if definitions.contains_key(&name(table)) {
        return;
    }
    definitions.insert(name(table), Value::Null);
    let mut properties = Map::new();
    for entry in table.entries {
        properties.insert(entry.name.to_owned(), property(entry, definitions));
    }
    let named = |need: Need| -> Vec<&str> {
        let entries = table.entries.iter().filter(|entry| entry.need == need);
        entries.map(|entry| entry.name).collect()
    };
    let mut value = json!({
        "type": "object",
        "properties": properties,
        "required": named(Need::Required),
        "additionalProperties": false,
    });
    let usual = named(Need::Usual);
    if !usual.is_empty() {
        // What a club file holds a schema cannot see.
        value["anyOf"] = json!([{ "required": usual }, { "required": ["club"] }]);
    }
    definitions.insert(name(table), value);
}

fn property(entry: &Entry, definitions: &mut Map<String, Value>) -> Value {
    let mut value = form(entry.form, definitions);
    if let (Some(bound), Some(object)) = (entry.bound, value.as_object_mut()) {
        match entry.form {
            Form::Count => {
                object.insert("minimum".into(), bound.least.into());
                object.insert("maximum".into(), bound.most.into());
            }
            Form::List(_) => {
                object.insert("maxItems".into(), bound.most.into());
            }
            Form::Text => {
                object.insert("maxLength".into(), bound.most.into());
            }
            // Times are bounded too, which a schema cannot say of text.
            _ => {}
        }
    }
    if let Some(object) = value.as_object_mut().filter(|object| !object.contains_key("$ref")) {
        object.insert("description".into(), entry.doc.into());
    }
    value
}

fn form(form: Form, definitions: &mut Map<String, Value>) -> Value {
    match form {
        Form::Text => {
            json!({"type": "string", "minLength": 1, "maxLength": LIMITS.text_characters.most})
        }
        Form::Word(words) => json!({"type": "string", "enum": words()}),
        Form::Time | Form::SendOff => json!({"type": "string", "pattern": "[0-9]"}),
        Form::Rest | Form::AnyWord(_) => json!({"type": "string", "minLength": 1}),
        Form::Booking => json!({"type": "string", "pattern": "^[^:]*[0-9][^:]*$"}),
        Form::TimeOfDay => json!({"type": "string", "pattern": "^[0-9]{1,2}:[0-9]{2}$"}),
        Form::Date => json!({"type": "string", "format": "date"}),
        Form::Pool => json!({"type": "string", "pattern": "^\\s*[0-9]"}),
        Form::OtherPool => json!({"type": "string", "pattern": "^\\s*([0-9]|[Nn][Oo][Nn][Ee])"}),
        Form::Swim => {
            let pattern = "^\\s*([0-9½⅓⅔]|[Hh][Aa][Ll][Ff]|[Ll][Aa][Dd][Dd][Ee][Rr]|[Pp][Yy][Rr][Aa][Mm][Ii][Dd])";
            json!({"type": "string", "pattern": pattern})
        }
        Form::Aim => json!({"type": "string", "pattern": "^(count|hold|[-\u{2212}][0-9]+)$"}),
        Form::Band => json!({"type": "string", "pattern": "^[0-9]+ *- *[0-9]+$"}),
        Form::Size => json!({"type": "string", "pattern": "^\\s*[0-9]"}),
        Form::Count => json!({"type": "integer"}),
        Form::Flag => json!({"type": "boolean"}),
        Form::Factor => json!({"type": "number"}),
        Form::List(item) => json!({"type": "array", "items": self::form(*item, definitions)}),
        Form::Table(table) => {
            define(table, definitions);
            json!({"$ref": reference(table)})
        }
        Form::AnyTable(tables) => {
            let all = tables().into_iter().map(|table| {
                define(table, definitions);
                json!({"$ref": reference(table)})
            });
            json!({"anyOf": all.collect::<Vec<_>>()})
        }
        Form::Distance => {
            let pattern = "^\\s*([0-9]|[Aa] |[Oo]ne )";
            json!({"type": "string", "pattern": pattern})
        }
        Form::LineOrTable(tables) => {
            let line = std::iter::once(self::form(Form::Text, definitions));
            let all: Vec<Value> = line
                .chain(tables().into_iter().map(|table| {
                    define(table, definitions);
                    json!({"$ref": reference(table)})
                }))
                .collect();
            json!({"anyOf": all})
        }
        Form::NameOrTable(tables) => {
            let name = std::iter::once(self::form(Form::Text, definitions));
            let all: Vec<Value> = name
                .chain(tables().map(|table| {
                    define(table, definitions);
                    json!({"$ref": reference(table)})
                }))
                .collect();
            json!({"anyOf": all})
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::session::keys::{CLUB, TABLES};

    #[test]
    fn a_notice_may_be_as_long_as_its_own_limit() {
        // 1,000 characters in the table of limits, where any other text has 200.
        let schema = of(&CLUB, "A club file");
        let longest = |key: &str| {
            schema["definitions"]["a-club-file"]["properties"][key]["maxLength"].as_u64()
        };
        assert_eq!((longest("notice"), longest("name")), (Some(1000), Some(200)));
    }

    #[test]
    fn every_table_has_a_name_of_its_own() {
        let names: BTreeSet<String> = TABLES.iter().map(|table| name(table)).collect();
        assert_eq!(names.len(), TABLES.len());
    }

    #[test]
    fn every_example_of_a_session_or_a_club_is_toml() {
        crate::reader::keys::assert_examples_are_toml(&TABLES);
    }
}
