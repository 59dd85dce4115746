//! The JSON Schema of the design document (draft 2020-12), from the one description.
//!
//! A TOML file is the JSON value with the same keys; its own dates and times are texts. The schema refuses what the
//! reader refuses by form: unknown keys, missing keys, wrong kinds, bounds, rules between the keys of one table. What
//! needs the whole design stays with the reader: names that refer to something, seats, sizes against each other.

use serde_json::{Map, Value, json};

use super::fields::{Bound, CAKE, Fallback, Field, Form, Kind, Need, Rule, Shape, Variant};
use super::tree;
use crate::measure::{LONGEST, Unit, write_length};

/// Characters that are not part of a text of one line.
const CONTROLS: &str = r"\u0000-\u001f\u007f-\u009f";

/// The schema, ready to be printed.
#[must_use]
pub fn schema() -> Value {
    let mut schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Cake design",
        "description": "A design of one decorated cake: the file cake.toml as JSON.",
        "$defs": {
            "aboveZero": length(Bound::Above),
            "zeroOrMore": length(Bound::From),
            "anyLength": length(Bound::Any),
        },
    });
    if let (Value::Object(schema), Value::Object(root)) = (&mut schema, table(&CAKE)) {
        schema.extend(root.into_iter().filter(|(key, _)| key != "description"));
    }
    schema
}

/// A table: its keys and no others. With kinds: one of them, told apart by `kind`.
fn table(shape: &Shape) -> Value {
    if shape.kinds.is_empty() {
        return object(shape, None);
    }
    // `if` and `then` rather than `oneOf`: then a checker names the key that is wrong, not only that no kind fits.
    let words: Vec<_> = shape.kinds.iter().map(|variant| variant.word).collect();
    let branches = shape.kinds.iter().map(|variant| {
        let is_kind = json!({"properties": {"kind": {"const": variant.word}}, "required": ["kind"]});
        json!({"if": is_kind, "then": object(shape, Some(variant))})
    });
    json!({
        "type": "object",
        "description": shape.meaning,
        "required": ["kind"],
        "properties": {"kind": {"enum": words}},
        "allOf": branches.collect::<Vec<_>>(),
    })
}

fn object(shape: &Shape, variant: Option<&'static Variant>) -> Value {
    let mut properties = Map::new();
    let mut required = Vec::new();
    if let Some(variant) = variant {
        properties.insert("kind".to_owned(), json!({"const": variant.word, "description": variant.meaning}));
        required.push("kind");
    }
    for field in shape.fields_with(variant) {
        properties.insert(field.key.to_owned(), property(field));
        if matches!(field.need, Need::Required) {
            required.push(field.key);
        }
    }
    let mut schema = json!({
        "type": "object",
        "description": shape.meaning,
        "properties": properties,
        "additionalProperties": false,
    });
    let rules: Vec<_> = shape.rules_with(variant).map(rule).collect();
    if let Value::Object(schema) = &mut schema {
        if !required.is_empty() {
            schema.insert("required".to_owned(), json!(required));
        }
        if !rules.is_empty() {
            schema.insert("allOf".to_owned(), json!(rules));
        }
    }
    schema
}

fn property(field: &Field) -> Value {
    let mut schema = kind(&field.kind);
    if let Value::Object(schema) = &mut schema {
        schema.insert("description".to_owned(), json!(field.meaning));
        if let Need::Default(fallback) = field.need
            && let Some(default) = default(fallback)
        {
            schema.insert("default".to_owned(), default);
        }
    }
    schema
}

fn default(fallback: Fallback) -> Option<Value> {
    match fallback.value() {
        tree::Value::Truth(truth) => Some(json!(truth)),
        tree::Value::Count(count) => Some(json!(count)),
        tree::Value::Number(number) => Some(json!(number)),
        tree::Value::Length(length) => Some(json!(write_length(length, Unit::Inch))),
        tree::Value::Text(text) => Some(json!(text)),
        tree::Value::List(list) if list.is_empty() => Some(json!([])),
        tree::Value::List(_) | tree::Value::Table(_) => None,
    }
}

fn kind(kind_of_value: &Kind) -> Value {
    match kind_of_value {
        Kind::Length(bound) => json!({"$ref": reference(*bound)}),
        Kind::Lengths(bound) => pair([&Kind::Length(*bound); 2]),
        Kind::Stretch => pair([&Kind::Length(Bound::Any); 2]),
        Kind::Size => {
            let length = Kind::Length(Bound::Above);
            json!({"anyOf": [kind(&length), pair([&length; 2])]})
        }
        Kind::Either(words, other) => json!({"anyOf": [{"enum": words}, kind(other)]}),
        Kind::Word(words) => json!({"enum": words}),
        Kind::Text(form) => text(*form),
        Kind::Name(names) => json!({"allOf": [text(Form::Name)], "$comment": format!("the name of {}", names.words())}),
        Kind::Count(least, most) => json!({"type": "integer", "minimum": least, "maximum": most}),
        Kind::Number(least, most) => json!({"type": "number", "minimum": least, "maximum": most}),
        Kind::Angle => json!({"type": "number", "minimum": -3600, "maximum": 3600}),
        Kind::Truth => json!({"type": "boolean"}),
        Kind::Hours => json!({"anyOf": [
            {"type": "number", "minimum": 0, "maximum": super::text::MOST_HOURS},
            {"type": "string", "pattern": r"^\s*[0-9]+(\.[0-9]+)?\s*(h|hours)?\s*$"},
        ]}),
        Kind::Pair(first, second) => pair([first, second]),
        Kind::List(element, least, most) => {
            json!({"type": "array", "items": kind(element), "minItems": least, "maxItems": most})
        }
        Kind::Table(shape) => table(shape),
        Kind::Tables(shape, least, most) => {
            json!({"type": "array", "items": table(shape), "minItems": least, "maxItems": most})
        }
        Kind::ByName(shape) => {
            json!({"type": "object", "propertyNames": text(Form::Name), "additionalProperties": table(shape)})
        }
    }
}

fn pair(kinds: [&Kind; 2]) -> Value {
    json!({"type": "array", "prefixItems": kinds.map(kind), "items": false, "minItems": 2})
}

fn text(form: Form) -> Value {
    use super::text::{MOST_IN_NAME, MOST_IN_TEXT};
    match form {
        Form::Name => {
            let pattern = format!(r"^(?=.*\S)[^{CONTROLS}]*$");
            json!({"type": "string", "maxLength": MOST_IN_NAME, "pattern": pattern})
        }
        Form::Line => json!({"type": "string", "maxLength": MOST_IN_TEXT, "pattern": format!("^[^{CONTROLS}]*$")}),
        Form::Lines => {
            let pattern = r"^[^\u0000-\u0008\u000b-\u001f\u007f-\u009f]*$";
            json!({"type": "string", "maxLength": MOST_IN_TEXT, "pattern": pattern})
        }
        Form::Path => {
            let pattern = format!(r"^(?=.*\S)(?!/)(?!(.*/)?\.\.(/|$))(?!(\./*)+$)[^{CONTROLS}\\:]+$");
            json!({"type": "string", "maxLength": 500, "pattern": pattern})
        }
        Form::Colour => json!({"type": "string", "pattern": "^#[0-9a-fA-F]{6}$"}),
        Form::Moment => {
            let pattern = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(:[0-9]{2})?$";
            json!({"type": "string", "pattern": pattern})
        }
        Form::Date => json!({"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}),
        Form::Clock => json!({"type": "string", "pattern": "^([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9])?$"}),
        Form::Currency => json!({"type": "string", "pattern": "^[A-Z]{3}$"}),
    }
}

const fn reference(bound: Bound) -> &'static str {
    match bound {
        Bound::Above => "#/$defs/aboveZero",
        Bound::From => "#/$defs/zeroOrMore",
        Bound::Any => "#/$defs/anyLength",
    }
}

/// A length as a bare number or as people write it. The unit of a bare number is not looked at, so its bound is the
/// widest one: 3 m in millimetres.
fn length(bound: Bound) -> Value {
    let most = LONGEST.as_mm();
    let number = match bound {
        Bound::Above => json!({"type": "number", "exclusiveMinimum": 0, "maximum": most}),
        Bound::From => json!({"type": "number", "minimum": 0, "maximum": most}),
        Bound::Any => json!({"type": "number", "minimum": -most, "maximum": most}),
    };
    let text = json!({"type": "string", "maxLength": 48, "pattern": length_pattern(bound)});
    json!({"anyOf": [number, text], "description": bound.words()})
}

/// The texts that are read as lengths; see `measure::read_length`.
fn length_pattern(bound: Bound) -> String {
    let single = "[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒↉]";
    let fraction = "[0-9]+[/⁄]0*[1-9][0-9]*";
    let mixed = format!(r"[0-9]+(\s*{single}|[-–]{single}|(\s+|[-–]){fraction})");
    // A comma before exactly three digits may part thousands, unless nothing but zeros stands before it.
    let decimal = r"[0-9]*\.[0-9]+|0*,[0-9]+|[0-9]+,([0-9]{1,2}|[0-9]{4,})";
    let quantity = format!("({decimal}|{mixed}|{single}|{fraction}|[0-9]+)");
    let inch = r#"([iI][nN](([cC][hH])([eE][sS])?)?\.?|''|["″”])"#;
    let metric = r"(([mM][iI][lL][lL][iI]|[cC][eE][nN][tT][iI])[mM][eE][tT]([rR][eE]|[eE][rR])[sS]?\.?|[mMcC][mM]\.?)";
    let feet = r"(([fF][eE][eE][tT]|[fF][oO][oO][tT]|[fF][tT])\.?|['′’])";
    let unit = format!(r"({inch}|{metric}|{feet}(\s*[-–]?\s*{quantity}\s*{inch}?)?)?");
    let sign = match bound {
        Bound::Above => r"(?=.*[1-9½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒])\+?",
        Bound::From => r"([+]|[-−](?=[0\s.,]*[^0-9.,/½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]*$))?",
        Bound::Any => "[+−-]?",
    };
    format!(r"^\s*{sign}\s*{quantity}\s*{unit}\s*$")
}

fn rule(rule: &Rule) -> Value {
    match *rule {
        Rule::OneOf(keys) => json!({"oneOf": keys.iter().map(|key| json!({"required": [key]})).collect::<Vec<_>>()}),
        Rule::AtMostOne(keys) => json!({"not": {"required": keys}}),
        Rule::SomeOf(keys) => json!({"anyOf": keys.iter().map(|key| json!({"required": [key]})).collect::<Vec<_>>()}),
        Rule::Needs(key, needed) => json!({"dependentRequired": {key: [needed]}}),
        Rule::Without { key, truth } => json!({
            "if": {"properties": {truth: {"const": true}}, "required": [truth]},
            "then": {"properties": {key: false}},
        }),
        Rule::Where { key, word, needs } => json!({
            "if": says(key, &[word]),
            "then": {"required": [needs]},
            "else": {"properties": {needs: false}},
        }),
        Rule::Only { keys, key, word } => {
            let forbidden: Map<_, _> = keys.iter().map(|key| ((*key).to_owned(), json!(false))).collect();
            json!({"if": says(key, &[word]), "else": {"properties": forbidden}})
        }
        Rule::PairFor(words) => json!({
            "if": says("shape", words),
            "then": {"properties": {"size": {"type": "array"}}},
            "else": {"properties": {"size": {"type": ["number", "string"]}}},
        }),
        Rule::BySurface(keys) => {
            let on_a_side = json!({"properties": {"seat": says("surface", &["side"])}, "required": ["seat"]});
            json!({"if": on_a_side, "then": places(keys, ["along", "up"]), "else": places(keys, ["x", "z"])})
        }
    }
}

fn says(key: &str, words: &[&str]) -> Value {
    json!({"properties": {key: {"enum": words}}, "required": [key]})
}

fn places(keys: &[&str], names: [&str; 2]) -> Value {
    let place = |key: &&str| {
        let mut place = json!({"propertyNames": {"enum": names}});
        if let Value::Object(place) = &mut place
            && *key == "over"
        {
            place.insert("required".to_owned(), json!(names));
        }
        ((*key).to_owned(), place)
    };
    json!({"properties": keys.iter().map(place).collect::<Map<_, _>>()})
}

#[cfg(test)]
mod tests {
    use super::schema;

    #[test]
    fn every_reference_of_the_schema_leads_somewhere() {
        let schema = schema();
        let text = schema.to_string();
        let references = text.split("\"$ref\":\"#").skip(1).filter_map(|rest| rest.split('"').next());
        let mut count = 0;
        for reference in references {
            assert!(schema.pointer(reference).is_some(), "{reference}");
            count += 1;
        }
        assert!(count > 30, "{count}");
        assert!(text.len() < 200_000, "{}", text.len());
    }
}
