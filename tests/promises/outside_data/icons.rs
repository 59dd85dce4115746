//! Icons that no one here drew, cut as toppers; `scripts/outside` fetches them and says in `OUTSIDE_ICONS` where they lie.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use glam::DVec2;
use serde_json::{Value, json};
use tierproof::art::{Art, ArtError, BackingOrder, CutOrder, Region, Shelf, encode_png};
use tierproof::cake::pieces::{Endless, Makings, PieceError, PieceMeasure, Posture, measure};
use tierproof::design::Design;
use tierproof::design::model::Form;
use tierproof::design::model::pieces::{Backing, Picks, ReferenceSide, SidePins, Topper};
use tierproof::measure::Length;

use super::{folder, ring, save};

/// Sets of icons: filled ones and ones drawn with a pen. Of each, every so many are taken, in the order of their names.
const SETS: [(&str, usize); 2] = [("bootstrap-icons/icons", 10), ("feather-icons/dist/icons", 3)];
/// The longer side of a topper, mm.
const SIDE: f64 = 80.0;
const BORDER: f64 = 5.0;
/// Columns or rows of the picture of an icon, along its page's longer side.
const PIXELS: f64 = 800.0;

fn icons(shelf: &Path) -> Vec<PathBuf> {
    let set = |(set, step): &(&str, usize)| {
        let entries = fs::read_dir(shelf.join(set)).unwrap_or_else(|error| panic!("{set}: {error}"));
        let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("entry").path()).collect();
        paths.retain(|path| path.extension().is_some_and(|ext| ext == "svg"));
        paths.sort();
        paths.into_iter().step_by(*step).collect::<Vec<_>>()
    };
    SETS.iter().flat_map(set).collect()
}

/// A shelf with one icon, as a drawing and as a picture.
fn shelf(path: &Path) -> Result<Shelf, Box<dyn std::error::Error>> {
    let drawing = Art::read(&fs::read(path)?, "icon.svg")?;
    let scale = PIXELS / drawing.size().0.max(drawing.size().1);
    let [columns, rows] = [drawing.size().0, drawing.size().1].map(|side| (side * scale).round() as u32);
    let picture = Art::read(&encode_png(&drawing.paint(columns, rows))?, "icon.png")?;
    let mut shelf = Shelf::default();
    shelf.insert("icon.svg", Arc::new(drawing));
    shelf.insert("icon.png", Arc::new(picture));
    Ok(shelf)
}

fn topper(shelf: &Shelf, art: &str, backed: bool) -> Topper {
    let outline = shelf.get(art).expect("art").outline();
    let (low, high) = outline.ok().and_then(|outline| outline.bounds()).unwrap_or_default();
    let size = high - low;
    let [border, front, behind, thin, thick] = [BORDER, 3.2, 6.4, 1.5, 3.0].map(Length::mm);
    Topper {
        art: art.to_owned(),
        size: if size.x > size.y { ReferenceSide::Width } else { ReferenceSide::Height }(Length::mm(SIDE)),
        thickness: front,
        finish: "gold".to_owned(),
        print: false,
        backing: backed.then(|| Backing { border, thickness: behind, finish: "white".to_owned() }),
        picks: Some(Picks {
            count: 1,
            diameter: thick,
            into_piece: Length::mm(30.0),
            into_cake: Length::mm(60.0),
            side_pins: Some(SidePins {
                count: 2,
                diameter: thin,
                into_piece: Length::mm(12.0),
                into_cake: Length::mm(30.0),
            }),
        }),
    }
}

fn rings(region: &Region) -> Vec<Value> {
    region.rings.iter().map(|points| ring(points)).collect()
}

/// What is cut for a topper, and the measurements that follow from it.
fn cut(shelf: &Shelf, topper: Topper) -> Result<Value, PieceError> {
    let makings = Makings { shelf, design: &Design::default() };
    let art = shelf.get(&topper.art).expect("art");
    let form = Form::Topper(topper);
    let measured = measure(&form, (Posture::OnTop, &Endless(Posture::OnTop)), makings)?;
    let Form::Topper(topper) = &form else { unreachable!("made above") };
    let backing = topper.backing.as_ref();
    let (front, behind) = (topper.thickness.as_mm(), backing.map_or(0.0, |backing| backing.thickness.as_mm()));
    let volume = |finish: &str| measured.volumes.iter().find(|(name, _)| name == finish).map_or(0.0, |found| found.1);
    let outline = art.outline()?;
    Ok(json!({
        "width": measured.size.width.as_mm(),
        "height": measured.size.height.as_mm(),
        "front_area": volume("gold") / front,
        "backing_area": if behind > 0.0 { volume("white") / behind } else { 0.0 },
        "outline": rings(&outline),
        "centroid": outline.centroid().map(|at| at.to_array()),
        "area": outline.area(),
        "picks": picks(&measured),
        "lacking": measured.shortfalls.iter().map(|lacking| format!("{lacking:?}")).collect::<Vec<_>>(),
        "necks": measured.necks.iter().map(|neck| json!({"sides": ring(&neck.sides), "severs": neck.severs})).collect::<Vec<_>>(),
    }))
}

fn picks(measured: &PieceMeasure) -> Vec<Value> {
    let pick = |pick: &tierproof::cake::pieces::PickMeasure| {
        let enters = pick.enters_piece();
        json!({
            "what": pick.kind.word(),
            "x": enters.x,
            "up": enters.y,
            "diameter": pick.diameter.as_mm(),
            "into_piece": pick.into_piece.as_mm(),
        })
    };
    measured.picks.iter().map(pick).collect()
}

/// The layer behind a drawing, with all its holes; mm, about the figure's middle.
fn grown(drawing: &Art) -> Result<Vec<Value>, ArtError> {
    let (low, high) = drawing.outline()?.bounds().unwrap_or_default();
    let size = (high - low) * (SIDE / (high - low).max_element());
    let backing = Some(BackingOrder { border: BORDER, closed_hole: 0.0 });
    Ok(rings(drawing.cut(&CutOrder { size, backing, least_neck: 0.0 })?.widest()))
}

fn icon(path: &Path) -> Result<Value, Box<dyn std::error::Error>> {
    let shelf = shelf(path)?;
    let of = |art, backed| cut(&shelf, topper(&shelf, art, backed));
    let drawing = shelf.get("icon.svg").expect("art");
    let page = DVec2::from(drawing.size());
    Ok(json!({
        "grown": grown(drawing)?,
        "page": page.to_array(),
        "backed": of("icon.svg", true)?,
        "bare": of("icon.svg", false)?,
        "traced": of("icon.png", true)?,
        "pixels": PIXELS / page.max_element(),
    }))
}

/// Without the icons there is nothing to write, and the comparison says that it finds no data.
#[test]
fn icons_as_toppers() {
    let Some(shelf) = std::env::var_os("OUTSIDE_ICONS") else { return };
    let written = icons(Path::new(&shelf)).into_iter().map(|path| {
        let result = icon(&path);
        let name = path.file_stem().map(|name| name.to_string_lossy().into_owned());
        let (made, failure) = match result {
            Ok(made) => (made, Value::Null),
            Err(error) => (Value::Null, Value::from(error.to_string())),
        };
        json!({"path": path.to_string_lossy(), "name": name, "made": made, "failure": failure})
    });
    let written: Vec<Value> = written.collect();
    save(&folder("icons"), "icons.json", &json!({"side": SIDE, "border": BORDER, "icons": written}));
}
