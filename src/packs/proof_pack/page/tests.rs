use glam::DVec2;

use super::super::tests::{Given, given};
use super::*;
use crate::art::Picture;
use crate::proof::chart::{Align, Chart, Hand};
use crate::proof::shot::Shot;
use crate::proof::turntable::{STEPS, Turned, cameras};

fn turned() -> Vec<Turned> {
    let chart = |words: &str| {
        let mut chart = Chart::new("", DVec2::new(720.0, 518.0));
        chart.text((DVec2::new(20.0, 20.0), Align::Left), words, Hand::strong(20.0));
        chart
    };
    let one = |camera: crate::proof::view::Camera| Turned {
        shot: Shot { view: "turned".into(), camera, picture: Picture::filled(24, 18, [200, 190, 180, 255]) },
        seams: chart("seam </script><b>"),
        sizes: Chart::new("", DVec2::new(720.0, 518.0)),
    };
    cameras(&[glam::DVec3::ZERO, glam::DVec3::splat(90.0)]).into_iter().map(one).collect()
}

fn html(given: &Given, turned: &[Turned]) -> String {
    String::from_utf8(page(&ProofInput { turned, ..given.input() }).unwrap()).unwrap()
}

#[test]
fn the_page_says_what_the_sheet_says_and_fetches_nothing() {
    let given = given(|_| {});
    let html = html(&given, &turned());
    for words in
        ["Harbour birthday", "revision 3fa9c1d0", "Declared: milk, eggs and wheat.", "16 portions", "Your answer"]
    {
        assert!(html.contains(words), "{words}");
    }
    for section in sections(&given.input()) {
        assert!(html.contains(&format!(">{}</h2>", section.heading)), "{}", section.heading);
    }
    assert!(html.contains("default-src 'none'"));
    for outside in ["http://", "https://", "url(", "@import", "fetch(", "XMLHttpRequest", "<link", "<iframe", "src=\"/"]
    {
        assert!(!html.contains(outside), "{outside}");
    }
}

#[test]
fn whatever_a_person_typed_stays_text() {
    let evil = "</title></script><script>alert('x')</script>\" onload=\"y\u{7}";
    let given = given(|design| {
        design.title = evil.into();
        design.order.customer = evil.into();
        design.order.notes = evil.into();
        design.order.allergens = vec![evil.into()];
        for piece in &mut design.pieces {
            piece.name = format!("{evil}{}", piece.name);
        }
    });
    let html = html(&given, &turned());
    assert!(!html.contains("<script>alert") && !html.contains("\" onload=\"") && !html.contains('\u{7}'));
    // Two scripts, the data and ours; each ends once.
    assert_eq!((html.matches("<script").count(), html.matches("</script>").count()), (2, 2));
}

#[test]
fn the_data_of_the_turntable_is_read_back() {
    let html = html(&given(|_| {}), &turned());
    let (_, data) = html.split_once("id=\"frames\">").unwrap();
    let data: serde_json::Value = serde_json::from_str(data.split_once("</script>").unwrap().0).unwrap();
    assert_eq!(data["steps"], STEPS);
    assert_eq!(data["elevations"].as_array().unwrap().len(), 2);
    assert_eq!(data["frames"].as_array().unwrap().len(), 32);
    assert_eq!(data["size"], serde_json::json!([24, 18]));
    assert!(data["frames"][0]["seams"].as_str().unwrap().contains("seam &lt;/script&gt;"));
    assert_eq!(data["frames"][0]["sizes"], "");
    let jpeg = STANDARD.decode(data["frames"][31]["jpeg"].as_str().unwrap()).unwrap();
    assert!(jpeg.starts_with(&[0xff, 0xd8]));
}

#[test]
fn the_policy_names_the_very_style_and_script() {
    let html = html(&given(|_| {}), &[]);
    let inner = |open: &str, close: &str| html.split_once(open).unwrap().1.split_once(close).unwrap().0.to_owned();
    for text in [inner("<style>", "</style>"), inner("<script>", "</script>")] {
        assert!(html.contains(&format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text)))));
    }
    assert!(!html.contains("id=\"stage\"") && html.contains("id=\"hero\""));
}
