//! What carries a cake, in `measure --json`: the keys that others read.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

fn measure(demo: &str) -> Value {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets-demo").join(demo);
    let output =
        Command::new(env!("CARGO_BIN_EXE_tierproof")).arg("measure").arg(folder).arg("--json").output().unwrap();
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn supports_sticks_masses_and_cautions_have_their_keys() {
    let facts = measure("garden-party");
    let support = &facts["supports"][0];
    assert_eq!((&support["under"], &support["in"]), (&"garland tier".into(), &"meadow tier".into()));
    for key in ["count", "diameter", "length", "circle", "load", "load_each"] {
        assert!(support[key].as_f64().unwrap() > 0.0, "{key}: {support}");
    }
    assert_eq!(support["length"], facts["tiers"][0]["finished"]["height"]);
    let positions = support["positions"].as_array().unwrap();
    assert_eq!(support["count"], positions.len());
    let half = support["circle"].as_f64().unwrap() / 2.0;
    for place in positions {
        // The upper tier stands in the middle of the lower.
        let away = place["x"].as_f64().unwrap().hypot(place["z"].as_f64().unwrap());
        assert!((away - half).abs() < 0.01, "{place} {half}");
    }
    assert!(
        support["source"].as_str().unwrap().contains("dowel")
            && support["books"][0].as_u64() <= support["books"][1].as_u64()
    );
    let dowels = &facts["sticks"].as_array().unwrap().iter().find(|stick| stick["what"] == "dowel").unwrap();
    assert_eq!((&dowels["count"], &dowels["length"]), (&support["count"], &support["length"]));
    let tiers: f64 = facts["tiers"].as_array().unwrap().iter().map(|tier| tier["mass"].as_f64().unwrap()).sum();
    let pieces: f64 = facts["pieces"].as_array().unwrap().iter().map(|piece| piece["mass"].as_f64().unwrap()).sum();
    assert!((facts["overall"]["mass"].as_f64().unwrap() - tiers - pieces).abs() < 1e-6);
    assert_eq!(facts["overall"]["box"]["width"].as_f64(), facts["overall"]["width"].as_f64().map(|width| width + 50.8));
    let about: Vec<&str> =
        facts["cautions"].as_array().unwrap().iter().map(|it| it["about"].as_str().unwrap()).collect();
    assert_eq!(about, ["allergens", "sticks", "finishes", "flowers", "load", "cold", "pictures"]);
    assert!(facts["cautions"].as_array().unwrap().iter().all(|it| !it["source"].as_str().unwrap().is_empty()));
}

#[test]
fn no_demo_or_starter_has_an_unjust_finding() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for shelf in ["assets-demo", "assets/starters"] {
        for entry in std::fs::read_dir(root.join(shelf)).unwrap() {
            let folder = entry.unwrap().path();
            if !folder.join("cake.toml").exists() {
                continue;
            }
            let output =
                Command::new(env!("CARGO_BIN_EXE_tierproof")).arg("check").arg(&folder).arg("--json").output().unwrap();
            let findings: Value = serde_json::from_slice(&output.stdout).unwrap();
            let grave: Vec<&Value> =
                findings.as_array().unwrap().iter().filter(|it| it["severity"] != "note").collect();
            assert!(grave.is_empty(), "{}: {grave:#?}", folder.display());
        }
    }
}
