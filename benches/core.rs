//! Speed of the pure core: load, resolve, measure, mesh, for a demo and for designs of many pieces.
//!
//! `cargo bench --no-default-features --features speed`; the figures that are promised stand in `docs/performance.md`.

#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark has no readers and stops at the first fault")]

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use tierproof::art::{Art, Shelf};
use tierproof::cake::{Cake, bodies, resolve};
use tierproof::checks;
use tierproof::design::{Design, read_design};
use tierproof::proof::facts::Facts;
use tierproof::proof::gather::gather;
use tierproof::wraps;

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
         height = 400\npaste = 3\n",
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
    let (plans, planned) = wraps::plan(cake);
    let findings = checks::all(cake, planned);
    gather(cake, &plans, &findings, "00000000")
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

criterion_group!(benches, first_demo, every_demo, growing);
criterion_main!(benches);
