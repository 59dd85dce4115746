//! Speed of the pure core: load, resolve, measure, mesh, for a demo and for designs of many pieces.
//!
//! `cargo bench --no-default-features --features speed`; the figures that are promised stand in `docs/performance.md`.

#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark has no readers and stops at the first fault")]

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use glam::DVec3;
use tierproof::art::{Art, Drawing, Join, Picture, Shelf, trace};
use tierproof::cake::{Cake, CakeTier, Keep, bodies, resolve};
use tierproof::checks;
use tierproof::design::model::CourseKind;
use tierproof::design::{Design, read_design};
use tierproof::edits::choose::{Place, Ray, Touch, choose};
use tierproof::edits::snap::{readout, snap};
use tierproof::edits::{Edit, History, PieceEdit, apply};
use tierproof::measure::Length;
use tierproof::proof::facts::Facts;
use tierproof::proof::gather::{WorkedOut, gather};
use tierproof::sheets;
use tierproof::wraps::{self, Onlookers};

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("assets-demo/lighthouse-birthday")
}

fn shelf(design: &Design, folder: &Path) -> Arc<Shelf> {
    let mut shelf = Shelf::default();
    for path in design.art_paths() {
        shelf.insert(path, Arc::new(Art::read(&fs::read(folder.join(path)).unwrap(), path).unwrap()));
    }
    Arc::new(shelf)
}

/// A large cake with `count` balls on its side, each in a place of its own.
fn many(count: usize) -> String {
    let mut text = String::from(
        "title = \"many\"\nunit = \"mm\"\n[board]\nsize = 900\n[[tier]]\nname = \"base\"\nshape = \"round\"\nsize = 600\n\
         height = 400\npaste = 3\n[[tier.course]]\nname = \"side\"\nkind = \"bare\"\nheight = \"fill\"\n",
    );
    for number in 0..count {
        let (column, row) = (number % 200, number / 200);
        let (along, up) = (column as f64 * 9.4 - 940.0, 5.0 + row as f64 * 7.5);
        text += &format!(
            "[[piece]]\nname = \"ball {number}\"\nkind = \"ball\"\nseat = {{ on = \"base\", surface = \"side\" }}\n\
             at = {{ along = {along:.1}, up = {up:.1} }}\nsize = 6\npin = true\nfinish = \"gold\"\n"
        );
    }
    text
}

fn measure(cake: &Cake) -> Facts {
    let onlookers = Onlookers::new(cake);
    let (plans, mut found) = wraps::plan_before(cake, &onlookers);
    let ends = wraps::ends(cake, &onlookers);
    found.extend(wraps::seams_in_sight(cake, &onlookers, (&plans, &ends)));
    let (sheets, laid) = sheets::lay_out(cake, &plans);
    found.extend(laid);
    let findings = checks::all(cake, found);
    gather(cake, WorkedOut { plans: &plans, ends: &ends, sheets: &sheets, findings: &findings }, "00000000")
}

fn first_demo(bench: &mut Criterion) {
    let text = fs::read_to_string(demo().join("cake.toml")).unwrap();
    let design = Arc::new(read_design(&text, "cake.toml").unwrap());
    let shelf = shelf(&design, &demo());
    let cake = resolve(&design, &shelf).unwrap();
    let mut group = bench.benchmark_group("first demo");
    group.bench_function("load", |b| b.iter(|| read_design(black_box(&text), "cake.toml").unwrap()));
    group.bench_function("resolve", |b| b.iter(|| resolve(black_box(&design), &shelf).unwrap()));
    group.bench_function("measure", |b| b.iter(|| measure(black_box(&cake))));
    group.bench_function("resolve and measure", |b| b.iter(|| measure(&resolve(black_box(&design), &shelf).unwrap())));
    group.bench_function("mesh", |b| b.iter(|| bodies(black_box(&cake)).unwrap()));
    group.finish();
}

fn every_demo(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("checks");
    for name in ["lighthouse-birthday", "garden-party", "night-train"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets-demo").join(name);
        let design =
            Arc::new(read_design(&fs::read_to_string(folder.join("cake.toml")).unwrap(), "cake.toml").unwrap());
        let cake = resolve(&design, &shelf(&design, &folder)).unwrap();
        group.bench_function(name, |b| b.iter(|| checks::all(black_box(&cake), Vec::new())));
    }
    group.sample_size(10);
    for count in [10, 100, 1_000, 10_000] {
        let design = Arc::new(read_design(&many(count), "cake.toml").unwrap());
        let cake = resolve(&design, &Arc::new(Shelf::default())).unwrap();
        group.throughput(Throughput::Elements(count as u64));
        group
            .bench_function(BenchmarkId::new("balls", count), |b| b.iter(|| checks::all(black_box(&cake), Vec::new())));
    }
    group.finish();
}

/// A disc with a hole and a ragged rim, on white.
fn picture(side: u32) -> Picture {
    let middle = f64::from(side) / 2.0;
    let pixel = |n: u32| {
        let (x, y) = (f64::from(n % side) + 0.5 - middle, f64::from(n / side) + 0.5 - middle);
        let (far, turn) = (x.hypot(y) / middle, y.atan2(x));
        let rim = 0.85 + 0.08 * (turn * 40.0).sin();
        let inside = ((rim - far) * middle + 0.5).clamp(0.0, 1.0) * ((far - 0.3) * middle + 0.5).clamp(0.0, 1.0);
        let shade = (255.0 - inside * 200.0) as u8;
        [shade, shade, shade, 255]
    };
    Picture { width: side, height: side, rgba: (0..side * side).flat_map(pixel).collect() }
}

fn art(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("art");
    group.sample_size(10);
    for side in [1000, 4000] {
        let picture = picture(side);
        group.bench_function(BenchmarkId::new("trace", side), |b| b.iter(|| trace(black_box(&picture)).unwrap()));
    }
    let lettering = r#"<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="200"><text x="5" y="150" font-size="120">Happy Birthday</text></svg>"#;
    let letters = Drawing::read(lettering.as_bytes(), "letters.svg").unwrap().outline().unwrap().scaled(0.2);
    group.bench_function("border round lettering", |b| b.iter(|| black_box(&letters).offset(6.0, Join::Round)));
    group.bench_function("necks of lettering", |b| b.iter(|| black_box(&letters).necks(5.0)));
    group.finish();
}

/// Seams of every wrap of each demo, before onlookers who stand there already; and of a cake 60 in across.
fn planning(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("plan");
    group.sample_size(20);
    for name in ["lighthouse-birthday", "garden-party", "night-train"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets-demo").join(name);
        let text = fs::read_to_string(folder.join("cake.toml")).unwrap();
        let design = Arc::new(read_design(&text, "cake.toml").unwrap());
        let cake = resolve(&design, &shelf(&design, &folder)).unwrap();
        let onlookers = wraps::Onlookers::new(&cake);
        group.bench_function(name, |b| b.iter(|| wraps::plan_before(black_box(&cake), &onlookers)));
    }
    let text = "unit = \"in\"\n[[tier]]\nname = \"base\"\nsize = 60\nheight = 5\n[[tier.course]]\nname = \"waves\"\n\
                kind = \"wrap\"\nheight = 4\nart = \"waves.svg\"\nsheet = \"letter\"\n";
    let cake = resolve(&Arc::new(read_design(text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap();
    let onlookers = wraps::Onlookers::new(&cake);
    group.bench_function("60 in round", |b| b.iter(|| wraps::plan_before(black_box(&cake), &onlookers)));
    group.finish();
}

fn growing(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("pieces");
    group.sample_size(10);
    for count in [10, 100, 1_000, 10_000] {
        let text = many(count);
        let design = Arc::new(read_design(&text, "cake.toml").unwrap());
        let shelf = Arc::new(Shelf::default());
        let cake = resolve(&design, &shelf).unwrap();
        group.throughput(Throughput::Elements(count as u64));
        group.bench_function(BenchmarkId::new("load", count), |b| {
            b.iter(|| read_design(black_box(&text), "cake.toml").unwrap());
        });
        group.bench_function(BenchmarkId::new("resolve and measure", count), |b| {
            b.iter(|| measure(&resolve(black_box(&design), &shelf).unwrap()));
        });
        group.bench_function(BenchmarkId::new("mesh", count), |b| b.iter(|| bodies(black_box(&cake)).unwrap()));
    }
    group.finish();
}

/// One step of a drag among 2,000 pieces: what must fit into a frame beside the picture.
fn editing(bench: &mut Criterion) {
    let design = Arc::new(read_design(&many(2000), "cake.toml").unwrap());
    let shelf = Arc::new(Shelf::default());
    let cake = resolve(&design, &shelf).unwrap();
    let all = bodies(&cake).unwrap();
    let mut touch = Touch::new(&all);
    let first = design.pieces.first().unwrap();
    let (seat, at) = (first.seat.clone(), first.at);
    let edit = Edit::piece("ball 1000", PieceEdit::Move(seat.clone(), at));
    let place = Place { seat, at };
    let mut history = History::new(Arc::clone(&design));
    let ray = Ray { from: DVec3::new(100.0, 400.0, 1500.0), toward: DVec3::new(-0.1, -0.2, -1.0) };
    let mut group = bench.benchmark_group("editing 2000 pieces");
    group.sample_size(10);
    group.bench_function("edit", |b| b.iter(|| history.hold(black_box(&edit)).unwrap()));
    group.bench_function("resolve", |b| b.iter(|| resolve(black_box(&design), &shelf).unwrap()));
    group.bench_function("choose", |b| b.iter(|| choose(&cake, &[], &touch, (black_box(ray), Length::mm(3.0)))));
    group.bench_function("snap", |b| b.iter(|| snap(&cake, "ball 1000", (black_box(&place), Length::mm(3.0)))));
    group.bench_function("read out", |b| b.iter(|| readout(black_box(&cake), "ball 1000")));
    group.bench_function("follow", |b| b.iter(|| touch.follow(black_box(&all))));
    let moved = std::iter::once(1000).collect();
    group.bench_function("clashes", |b| b.iter(|| checks::clashes(black_box(&cake), &moved)));
    let cakes = [(), ()].map(|()| Arc::new(resolve(&design, &shelf).unwrap()));
    let (mut keep, mut turn) = (Keep::default(), cakes.iter().cycle());
    group.bench_function("keep", |b| b.iter(|| keep.bodies(black_box(turn.next().unwrap())).unwrap()));
    let rename = Edit::piece("ball 1000", PieceEdit::Rename("bead".to_owned()));
    group.bench_function("rename", |b| b.iter(|| apply(black_box(&design), &rename).unwrap()));
    group.finish();
}

fn exposure(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("exposure");
    for name in ["lighthouse-birthday", "garden-party", "night-train"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets-demo").join(name);
        let text = fs::read_to_string(folder.join("cake.toml")).unwrap();
        let design = Arc::new(read_design(&text, "cake.toml").unwrap());
        let cake = resolve(&design, &shelf(&design, &folder)).unwrap();
        let wrap = |tier: &CakeTier| tier.courses.iter().position(|course| matches!(course.kind, CourseKind::Wrap(_)));
        let (tier, course) = cake.tiers.iter().enumerate().find_map(|(tier, at)| Some((tier, wrap(at)?))).unwrap();
        group.bench_function(BenchmarkId::new("index and curve at 1 mm", name), |b| {
            b.iter(|| Onlookers::new(black_box(&cake)).course(tier, course).unwrap().curve(1.0));
        });
        let onlookers = Onlookers::new(&cake);
        group.bench_function(BenchmarkId::new("curve at 1 mm", name), |b| {
            b.iter(|| onlookers.course(black_box(tier), course).unwrap().curve(1.0));
        });
    }
    group.sample_size(10);
    for count in [10, 100, 1_000, 10_000] {
        let design = Arc::new(read_design(&many(count), "cake.toml").unwrap());
        let cake = resolve(&design, &Arc::new(Shelf::default())).unwrap();
        group.throughput(Throughput::Elements(count as u64));
        group.bench_function(BenchmarkId::new("index and curve", count), |b| {
            b.iter(|| Onlookers::new(black_box(&cake)).course(0, 0).unwrap().curve(1.0));
        });
    }
    group.finish();
}

criterion_group!(benches, first_demo, every_demo, art, planning, growing, editing, exposure);
criterion_main!(benches);
