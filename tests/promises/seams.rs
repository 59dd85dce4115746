//! Where the joins of a wrap fall: where nobody looks, never beyond a sheet, and with a word on what stands in the way.

use std::sync::Arc;

use proptest::prelude::{ProptestConfig, Strategy, prop, prop_assert, proptest};

use tierproof::art::Shelf;
use tierproof::cake::{Cake, resolve};
use tierproof::design::read_design;
use tierproof::findings::{Code, Finding};
use tierproof::wraps::{Strip, WrapPlan, plan};

const INCH: f64 = 25.4;

/// A cake of one tier with one wrap. The tier's keys, the wrap's keys, and whatever else stands in the file.
fn cake(unit: &str, tier: &str, wrap: &str, rest: &str) -> Cake {
    let text = format!(
        "unit = \"{unit}\"\n[[tier]]\nname = \"base\"\n{tier}\n[[tier.course]]\nname = \"waves\"\nkind = \"wrap\"\n\
         art = \"waves.svg\"\n{wrap}\n{rest}"
    );
    let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}\n{text}"));
    resolve(&Arc::new(design), &Arc::new(Shelf::default())).unwrap()
}

fn planned(cake: &Cake) -> (WrapPlan, Vec<Finding>) {
    let (mut plans, findings) = plan(cake);
    (plans.remove(0), findings)
}

/// A round cake, 180 mm across, with a wrap 60 mm high for A4 sheets.
fn round(wrap: &str, rest: &str) -> (WrapPlan, Vec<Finding>) {
    planned(&cake("mm", "size = 180\nheight = 100", &format!("height = 60\nthickness = 0\n{wrap}"), rest))
}

/// Everything said of a wrap but the trade fact that a pan is no cake.
fn said(findings: &[Finding]) -> Vec<&Finding> {
    findings.iter().filter(|finding| finding.code != Code::PanIsNotCake).collect()
}

fn readings(plan: &WrapPlan) -> Vec<f64> {
    plan.seams.iter().map(|seam| seam.along).collect()
}

#[test]
fn a_six_inch_cake_needs_three_letter_strips_and_one_planned_from_the_pan_comes_out_short() {
    // common practice, no source: a 6 in three-layer cake with a print 4 3/4 in high, half an inch of icing all round
    let wrap = "height = \"4 3/4\"\nsheet = \"letter\"";
    let (plan, findings) = planned(&cake("in", "size = 6\nicing = \"1/2\"\nheight = 5", wrap, ""));
    assert_eq!(plan.strips.len(), 3);
    assert!(plan.strips.iter().all(|strip| strip.width <= 10.5 * INCH + 0.01));
    let finding = findings.iter().find(|finding| finding.code == Code::PanIsNotCake).unwrap();
    // π in by the icing, and π times the sheet's thickness by its own neutral line.
    let short = std::f64::consts::PI * (INCH + 0.3);
    assert!((finding.by.unwrap().as_mm() - short).abs() < 0.01, "{finding:?}");
    assert!(finding.sentence.ends_with("would come out 3 3/16 in short"), "{}", finding.sentence);
    // Planned from the pan, the third strip is missing.
    let (pan, _) = planned(&cake("in", "size = 6\nheight = 5", wrap, ""));
    assert_eq!(pan.strips.len(), 2);
}

#[test]
fn one_join_falls_at_the_back_and_two_are_hidden_there() {
    let (one, _) = planned(&cake("mm", "size = 80\nheight = 100", "height = 60", ""));
    assert_eq!(one.strips.len(), 1);
    assert!((one.seams[0].along - std::f64::consts::PI * 40.0).abs() < 1e-9 && one.seams[0].exposure == 0.0);
    // 346 mm round, strips of 287 mm: two joins 74 mm apart, as near to the back as the longer strip allows.
    let (two, _) = planned(&cake("mm", "size = 110\nheight = 100", "height = 60", ""));
    assert_eq!(two.strips.len(), 2);
    assert!(two.seams.iter().all(|seam| seam.exposure <= 0.1 && seam.along.abs() > 130.0), "{:?}", two.seams);
}

#[test]
fn a_join_goes_behind_a_bow() {
    let bow = |along: i32| {
        format!(
            "[[piece]]\nname = \"bow\"\nkind = \"bow\"\nseat = {{ on = \"base\", surface = \"side\" }}\n\
             at = {{ along = {along}, up = 30 }}\nribbon = 40\nloop = 50\nloops = 4\ntails = 2\ntail = 60\nthickness = 3\n"
        )
    };
    let plain = round("", "").0;
    for along in [-120, 130] {
        let (plan, _) = round("", &bow(along));
        let near = plan.seams.iter().map(|seam| (seam.along - f64::from(along)).abs()).fold(f64::INFINITY, f64::min);
        assert!(near < 25.0, "{:?}", plan.seams);
        assert!(plan.cost < plain.cost, "{} {}", plan.cost, plain.cost);
    }
}

#[test]
fn a_low_print_lies_as_it_saves_a_sheet() {
    // Letter prints 8 × 10 1/2 in. Along its length two strips 3 3/4 in high fit side by side, across it two as well …
    let strips = |height: &str, size: f64| {
        let tier = format!("size = {size}\nheight = 5");
        planned(&cake("in", &tier, &format!("height = \"{height}\"\nsheet = \"letter\""), "")).0.strips.len()
    };
    // … 20 in round: two strips of 10 in, where across the sheet there would be three of 8 in at most.
    assert_eq!(strips("3 3/4", 6.4), 2);
    // A print 9 in high fits across the sheet only.
    assert_eq!(strips("4 3/4", 6.4), 2);
    let high = planned(&cake("in", "size = 6.4\nheight = 10", "height = 9\nsheet = \"letter\"", "")).0;
    assert_eq!(high.strips.len(), 3);
    assert!(high.strips.iter().all(|strip| strip.width <= 8.0 * INCH + 0.01));
}

#[test]
fn a_print_that_must_not_turn_lies_as_it_is() {
    // 20 in round: along the sheet two strips of 10 in, across it three of at most 8 in.
    let strips = |turn: &str| {
        let wrap = format!("height = \"3 3/4\"\nsheet = \"letter\"\n{turn}");
        planned(&cake("in", "size = 6.4\nheight = 5", &wrap, "")).0.strips
    };
    assert_eq!((strips("").len(), strips("turn = true").len()), (2, 2));
    let straight = strips("turn = false");
    assert_eq!(straight.len(), 3);
    assert!(straight.iter().all(|strip| strip.width <= 8.0 * INCH + 0.01));
}

#[test]
fn a_corner_is_taken_where_it_is_as_well_hidden() {
    let (plan, _) = planned(&cake("mm", "shape = \"square\"\nsize = 150\npaste = 3\nheight = 100", "height = 60", ""));
    let side = 150.0 + std::f64::consts::PI * 1.5;
    let corner = |along: f64| ((along.abs() / side).fract() - 0.5).abs() * side;
    assert!(plan.seams.iter().any(|seam| corner(seam.along) < 0.01), "{:?}", plan.seams);
}

#[test]
fn turning_the_cake_with_its_viewers_changes_nothing() {
    let build = |turn: i32| {
        let tier = format!("shape = \"hexagon\"\nsize = 240\nheight = 100\nturn = {turn}\npaste = 4");
        let rest = format!(
            "[[piece]]\nname = \"ball\"\nkind = \"ball\"\nseat = {{ on = \"base\", surface = \"side\" }}\n\
             at = {{ along = 100, up = 30 }}\nsize = 50\npin = true\n[viewing]\nfront = {turn}\n"
        );
        planned(&cake("mm", &tier, "height = 60\npins = [20]", &rest)).0
    };
    let straight = build(0);
    for turn in [90, 35, -140] {
        let turned = build(turn);
        assert!((straight.cost - turned.cost).abs() < 0.011 * straight.seams.len() as f64, "{turn}");
        let pairs = straight.seams.iter().zip(&turned.seams);
        assert!(pairs.clone().all(|(a, b)| (a.along - b.along).abs() < 0.01), "{turn}: {straight:?} {turned:?}");
    }
}

/// Any shape of tier, any wrap on it.
fn any_wrap() -> impl Strategy<Value = (String, String)> {
    let shape = prop::sample::select(vec![
        "shape = \"round\"\nsize = 200",
        "shape = \"square\"\nsize = 180",
        "shape = \"rectangle\"\nsize = [200, 150]",
        "shape = \"hexagon\"\nsize = 220",
        "shape = \"octagon\"\nsize = 220",
        "shape = \"oval\"\nsize = [240, 170]",
        "shape = \"heart\"\nsize = 200",
        "shape = \"petal\"\nsize = 220",
    ]);
    let stretch = prop::sample::select(vec!["", "from = -200\nto = 150", "from = 100\nto = 460"]);
    let pins = prop::sample::select(vec!["", "pins = [120]", "pins = [-130, 90]"]);
    let free =
        prop::sample::select(vec!["", "join_free = { centre = 10, width = 120 }", "forbid = [[-90, -20], [40, 70]]"]);
    let widths = (0..3_i32, 0..2_i32, 10..60_i32);
    (shape, stretch, pins, free, widths).prop_map(|(shape, stretch, pins, free, (overlap, under, least))| {
        let overlap = overlap * 4;
        let under = if under == 1 { "under = { paste = 3 }" } else { "" };
        (
            format!("{shape}\npaste = 3\nheight = 100"),
            format!("height = 60\noverlap = {overlap}\nleast_strip = {least}\n{stretch}\n{pins}\n{free}\n{under}"),
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn strips_keep_to_the_sheet_and_cover_the_course_once((tier, wrap) in any_wrap()) {
        let cake = cake("mm", &tier, &wrap, "");
        let (plan, findings) = planned(&cake);
        let tier = &cake.tiers[0];
        let (around, closed) = (tier.outline.perimeter(), !wrap.contains("from"));
        let overlap = if wrap.contains("overlap = 8") { 8.0 } else if wrap.contains("overlap = 4") { 4.0 } else { 0.0 };
        // The sum of the strips is the course, once, and one overlap for every seam.
        let widths: f64 = plan.strips.iter().map(|strip| strip.width).sum();
        prop_assert!((widths - plan.length - overlap * plan.seams.len() as f64).abs() < 1e-6, "{:?}", plan);
        prop_assert!(plan.strips.windows(2).all(|pair| (pair[0].to - pair[1].from).abs() < 1e-9));
        let (first, last) = (plan.strips[0], plan.strips[plan.strips.len() - 1]);
        let span = tier.courses[0].span;
        let whole = if closed { around } else { span.1 - span.0 };
        prop_assert!((last.to - first.from - whole).abs() < 1e-6);
        for (strip, seam) in plan.strips.iter().skip(usize::from(!closed)).zip(&plan.seams) {
            prop_assert!((tier.outline.reading(strip.from) - seam.along).abs() < 1e-6);
        }
        // A4 prints 200 × 287 mm.
        prop_assert!(plan.strips.iter().all(|strip| strip.width <= 287.0 + 0.01), "{:?}", plan.strips);
        let impossible = findings.iter().any(|finding| finding.code == Code::NoSeamPlan);
        let least: f64 = wrap.split("least_strip = ").nth(1).unwrap().lines().next().unwrap().parse().unwrap();
        // Without its overlap; the last strip of a stretch has none.
        let is_last = |at: usize| !closed && at + 1 == plan.strips.len();
        let covers = |(at, strip): (usize, &Strip)| strip.width - if is_last(at) { 0.0 } else { overlap };
        let kept = plan.strips.iter().enumerate().map(covers).all(|width| width >= least - 0.01);
        prop_assert!(impossible || kept, "{:?}", plan.strips);
        for (from, to) in [(-50.0, 70.0)].into_iter().filter(|_| wrap.contains("join_free")) {
            let inside = |along: f64| along > from + 0.01 && along < to - 0.01;
            prop_assert!(impossible || plan.seams.iter().all(|seam| seam.pinned || !inside(seam.along)));
        }
    }
}

#[test]
fn corners_lengthen_the_strips_that_lie_round_them() {
    // On 3 mm of paste a print turns four corners on a radius of 3 mm more: 2π·3.05 mm, all of it at the corners.
    let tier = "shape = \"square\"\nsize = 120\nheight = 100";
    let wrap = "height = 60\nthickness = \"0.1 mm\"\nunder = { paste = 3 }\nfrom = -50\nto = 50";
    let straight = planned(&cake("mm", tier, wrap, "")).0;
    assert!((straight.strips[0].width - 100.0).abs() < 1e-9);
    let round = planned(&cake("mm", tier, &wrap.replace("to = 50", "to = 70"), "")).0;
    let corner = std::f64::consts::FRAC_PI_2 * 3.05;
    assert!((round.strips[0].width - 120.0 - corner).abs() < 1e-9, "{}", round.strips[0].width);
}

#[test]
fn the_paste_beneath_is_joined_apart_from_the_print() {
    let (plan, findings) = round("under = { paste = 3 }", "");
    let under = plan.under.unwrap();
    // Its neutral line lies half its thickness out, the print's the whole.
    assert!((under.length - std::f64::consts::PI * 183.0).abs() < 1e-6);
    assert!((plan.length - std::f64::consts::PI * 186.0).abs() < 1e-6);
    let seam = under.seam.unwrap();
    let around = std::f64::consts::PI * 180.0;
    let apart = |a: f64, b: f64| (a - b).abs().min(around - (a - b).abs());
    let nearest = readings(&plan).into_iter().map(|along| apart(along, seam.along)).fold(f64::INFINITY, f64::min);
    assert!(nearest >= INCH && seam.exposure < 0.1, "{seam:?} {:?}", plan.seams);
    assert!(said(&findings).is_empty());
    let own = format!("under = {{ paste = 3, seam = {} }}", plan.seams[0].along + 5.0);
    let (plan, findings) = round(&own, "");
    assert!(plan.under.unwrap().seam.unwrap().pinned);
    assert_eq!(said(&findings)[0].code, Code::SeamsInLine);
    assert_eq!(round("under = { paste = 3 }\nfrom = -50\nto = 60", "").0.under.unwrap().seam, None);
}

#[test]
fn the_cost_is_the_stated_one() {
    // A4 prints 200 × 287 mm: three strips 60 mm high lie side by side on it.
    let cost = |plan: &WrapPlan, [strip, sliver, waste, comfortable]: [f64; 4]| {
        let seams: f64 = plan.seams.iter().map(|seam| seam.exposure).sum();
        let count = plan.strips.len() as f64;
        let slivers: f64 = plan.strips.iter().map(|strip| (1.0 - strip.width / comfortable).max(0.0)).sum();
        let wasted = (count / 3.0).ceil() - plan.length * plan.height / (200.0 * 287.0);
        seams + strip * count + sliver * slivers + waste * wasted
    };
    let pins = "pins = [100, 140]";
    let usual = round(pins, "").0;
    assert!((usual.cost - cost(&usual, [1.0, 0.5, 0.25, 76.2])).abs() < 1e-6, "{usual:?}");
    let planning = "[planning]\nstrip = 0.3\nsliver = 2\nwaste = 1.5\ncomfortable = 120\n";
    let own = round(pins, planning).0;
    assert!((own.cost - cost(&own, [0.3, 2.0, 1.5, 120.0])).abs() < 1e-6, "{own:?}");
    // By its own weights a plan costs no more than the other one would.
    assert!(own.cost <= cost(&usual, [0.3, 2.0, 1.5, 120.0]) + 1e-9);
    assert!(usual.cost <= cost(&own, [1.0, 0.5, 0.25, 76.2]) + 1e-9);
}

/// What is wrong with a wrap that can't be cut as asked: the one finding there is.
fn only(wrap: &str, rest: &str) -> (WrapPlan, Finding) {
    let (plan, findings) = round(wrap, rest);
    let said = said(&findings);
    assert_eq!(said.len(), 1, "{wrap}: {said:?}");
    (plan, said[0].clone())
}

#[test]
fn what_stops_a_plan_is_said_with_the_nearest_change() {
    let small = "[sheet.small]\nsize = [30, 110]\nprintable = [20, 100]\n";
    for (wrap, rest, limit, mends) in [
        ("sheet = \"small\"", small, "yields strips of up to 20 mm", ["prints 7 mm longer", "allow strips of"]),
        (
            "pins = [100, 110]",
            "",
            "seams at 100 mm and 110 mm are only 10 mm apart",
            ["drop the pin at 100 mm", "allow strips of"],
        ),
        (
            "join_free = { width = 300 }",
            "",
            "between -150 mm and 150 mm, 300 mm of print; a strip from its sheet covers 287 mm",
            ["prints 13 mm longer", "inside the stretch without seams"],
        ),
        (
            "forbid = [[-300, 300]]",
            "",
            "no seam may fall anywhere on the course",
            ["allow a seam at", "inside the stretch without seams"],
        ),
        (
            "from = -100\nto = 160\npins = [-90]",
            "",
            "seams at -100 mm and -90 mm are only 10 mm apart",
            ["drop the pin at -90 mm", "allow strips of 10 mm"],
        ),
        ("from = 0\nto = 20", "", "seams at 0 mm and 20 mm are only 20 mm apart", ["allow strips of 20 mm", "allow"]),
        (
            "pins = [0, 20]\nleast_strip = 50",
            "",
            "only 20 mm apart; a strip should have at least 50 mm",
            ["drop the pin at 0 mm", "allow strips of"],
        ),
    ] {
        let (plan, finding) = only(wrap, rest);
        assert_eq!(finding.code, Code::NoSeamPlan, "{finding:?}");
        assert!(finding.sentence.contains(limit), "{wrap}: {}", finding.sentence);
        assert!(mends.iter().all(|mend| finding.mend.contains(mend)), "{wrap}: {}", finding.mend);
        assert!(!plan.strips.is_empty());
    }
}

#[test]
fn the_changes_that_are_named_do_help_and_less_would_not() {
    // 13 mm more sheet.
    let sheet = |longest: f64| format!("[sheet.own]\nsize = [200, 400]\nprintable = [200, {longest}]\n");
    let free = "sheet = \"own\"\njoin_free = { width = 300 }";
    let by = only(free, &sheet(287.0)).1.by.unwrap().as_mm();
    assert!(said(&round(free, &sheet(287.0 + by)).1).is_empty());
    assert!(!said(&round(free, &sheet(287.0 + by - 0.2)).1).is_empty());
    // A narrower least strip.
    let pinned = "pins = [100, 110]\nleast_strip = ";
    assert!(said(&round(&format!("{pinned}10"), "").1).is_empty());
    assert!(!said(&round(&format!("{pinned}10.2"), "").1).is_empty());
    // The pin that is named, and only that one.
    assert!(only("pins = [0, 150, 160]", "").1.mend.contains("drop the pin at 150 mm"));
    assert!(said(&round("pins = [0, 160]", "").1).is_empty());
}

#[test]
fn wishes_that_contradict_one_another_are_said_and_the_pin_stays() {
    for (wrap, code, phrase) in [
        ("from = -100\nto = 100\npins = [150]", Code::PinMisplaced, "the pin at 150 mm lies outside"),
        (
            "pins = [50]\nforbid = [[40, 60]]",
            Code::PinMisplaced,
            "the pin at 50 mm lies in a stretch where seams are forbidden",
        ),
        (
            "pins = [50]\njoin_free = { width = 120 }",
            Code::JoinInFreeStretch,
            "the seam pinned at 50 mm lies 10 mm inside the stretch without joins",
        ),
        ("fit = \"repeat\"\nrepeat = 700", Code::RepeatStretched, "one repeat is wider than the whole way round"),
    ] {
        let (plan, finding) = only(wrap, "");
        assert_eq!(finding.code, code, "{finding:?}");
        assert!(finding.sentence.contains(phrase), "{}", finding.sentence);
        let is_outside = code == Code::PinMisplaced && wrap.contains("from");
        assert_eq!(plan.seams.iter().any(|seam| seam.pinned), wrap.contains("pins") && !is_outside);
    }
    // A stretch that one sheet covers needs no overlap, wherever a strip would have one.
    assert_eq!(round("overlap = 20\nfrom = -140\nto = 145", "").0.strips.len(), 1);
    // No overlap is an overlap as good as any; one below zero is no length (see bad/).
    assert!(said(&round("overlap = 0", "").1).is_empty());
}

#[test]
fn a_large_cake_is_planned_from_many_sheets() {
    let (plan, findings) = planned(&cake("in", "size = 60\nheight = 5", "height = 4\nsheet = \"letter\"", ""));
    assert!(said(&findings).is_empty());
    // 188 1/2 in, of which 18 sheets cover 189: hardly a seam could be moved; a 19th sheet lets several hide at the back.
    assert!((18..=20).contains(&plan.strips.len()), "{}", plan.strips.len());
}
