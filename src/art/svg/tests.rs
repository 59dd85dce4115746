use std::f64::consts::PI;
use std::fmt::Write;

use super::*;

fn svg(body: &str) -> String {
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100" height="80">{body}</svg>"#
    )
}

fn read(body: &str) -> Result<Drawing, ArtError> {
    Drawing::read(svg(body).as_bytes(), "art/a.svg")
}

fn area(body: &str) -> f64 {
    read(body).unwrap().outline().unwrap().area()
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found / expected - 1.0).abs() < 2e-4, "{found} instead of {expected}");
}

fn fault(body: &str) -> Fault {
    read(body).unwrap_err().fault
}

#[test]
fn fill_rules_make_holes_or_not() {
    let path = "M10 10H50V50H10Z M20 20H40V40H20Z";
    near(area(&format!(r#"<path fill-rule="evenodd" d="{path}"/>"#)), 1200.0);
    near(area(&format!(r#"<path d="{path}"/>"#)), 1600.0);
    // The inner square runs the other way: a hole by either rule.
    near(area(r#"<path d="M10 10H50V50H10Z M20 20V40H40V20Z"/>"#), 1200.0);
    let pieces = read(&format!(r#"<path fill-rule="evenodd" d="{path}"/>"#)).unwrap().outline().unwrap().faces();
    assert_eq!(pieces.iter().map(|face| face.holes.len()).collect::<Vec<_>>(), [1]);
}

#[test]
fn curves_are_true_to_their_formula() {
    near(area(r#"<circle cx="50" cy="40" r="30"/>"#), PI * 900.0);
    near(area(r#"<ellipse cx="50" cy="40" rx="40" ry="20"/>"#), PI * 800.0);
    // Archimedes: a parabola's segment is two thirds of its box.
    near(area(r#"<path d="M10 70 Q50 -50 90 70Z"/>"#), 80.0 * 60.0 * 2.0 / 3.0);
}

#[test]
fn groups_and_transforms_multiply() {
    let turned = r#"<g transform="translate(50 40)"><g transform="rotate(30) scale(2 .5)"><rect x="-5" y="-5" width="10" height="10" transform="skewX(20)"/></g></g>"#;
    near(area(turned), 100.0);
    let centre = read(turned).unwrap().outline().unwrap().centroid().unwrap();
    assert!(centre.distance(glam::DVec2::new(50.0, 40.0)) < 1e-3);
}

#[test]
fn y_runs_up_and_nothing_is_mirrored() {
    // An L whose foot points right: high and narrow at the left, its foot at the bottom.
    let drawing = read(r#"<path d="M10 10H20V60H50V70H10Z"/>"#).unwrap();
    let outline = drawing.outline().unwrap();
    let inside = |x, y| outline.contains(glam::DVec2::new(x, y));
    assert!(inside(15.0, 65.0) && inside(45.0, 15.0) && !inside(45.0, 65.0));
    let picture = drawing.paint(100, 80);
    let dark = |x, y| picture.pixel(x, y).unwrap()[3] == 255;
    assert!(dark(15, 15) && dark(45, 65) && !dark(45, 15));
    for (x, y) in (0..100).flat_map(|x| (0..80).map(move |y| (x, y))) {
        assert_eq!(dark(x, y), inside(f64::from(x) + 0.5, 79.5 - f64::from(y)), "{x} {y}");
    }
}

#[test]
fn strokes_are_widened_with_their_joins_and_caps() {
    let stroke = r#"fill="none" stroke="black" stroke-width="10""#;
    // A line of 40 by 10; with round caps a disc of 5 more.
    near(area(&format!(r#"<path {stroke} d="M20 40H60"/>"#)), 400.0);
    let capped = area(&format!(r#"<path {stroke} stroke-linecap="round" d="M20 40H60"/>"#));
    // True to 1e-4 of the drawing's size all round the cap.
    assert!((capped - 400.0 - PI * 25.0).abs() < 0.01 * 10.0 * PI);
    // A circle's line is a ring: 2π·r·w.
    near(area(&format!(r#"<circle {stroke} cx="50" cy="40" r="20"/>"#)), 2.0 * PI * 20.0 * 10.0);
    near(area(r#"<rect x="20" y="20" width="40" height="40" stroke="red" stroke-width="10"/>"#), 2500.0);
    near(area(&format!(r#"<path {stroke} stroke-dasharray="10 5" d="M20 40H65"/>"#)), 300.0);
    near(area(&format!(r#"<g transform="scale(.1)"><path {stroke} d="M200 400H600"/></g>"#)), 40.0);
}

#[test]
fn overlaps_count_once_and_invisible_shapes_not_at_all() {
    let shapes = r#"<rect x="10" y="10" width="20" height="20"/><rect x="20" y="20" width="20" height="20"/>"#;
    near(area(shapes), 700.0);
    let hidden = r##"<rect x="50" y="50" width="9" height="9" fill="none"/><rect x="50" y="50" width="9" height="9" visibility="hidden"/>
        <g opacity="0"><rect width="100" height="80"/></g><rect width="100" height="80" fill="#fff" fill-opacity="0"/>
        <g display="none"><rect width="100" height="80"/></g><defs><rect id="r" width="100" height="80"/></defs>"##;
    near(area(&format!("{shapes}{hidden}")), 700.0);
    assert!(matches!(read(hidden).unwrap().outline(), Err(Fault::NoOutline { .. })));
}

#[test]
fn clip_paths_and_the_page_cut_the_outline() {
    let clipped = r##"<clipPath id="c"><circle cx="50" cy="40" r="20"/></clipPath>
        <g transform="translate(5 0)"><rect width="90" height="80" clip-path="url(#c)"/></g>"##;
    near(area(clipped), PI * 400.0);
    near(area(r#"<rect x="-50" y="-50" width="100" height="100"/>"#), 2500.0);
}

#[test]
fn masks_of_black_and_white_cut_and_soft_ones_are_refused() {
    let masked = |mask: &str, more: &str| {
        format!(r##"<mask id="m" {more}>{mask}</mask><rect x="10" y="10" width="50" height="50" mask="url(#m)"/>"##)
    };
    let user = r#"maskUnits="userSpaceOnUse" x="0" y="0" width="100" height="80""#;
    near(area(&masked(r##"<rect width="30" height="80" fill="#fff"/>"##, user)), 1000.0);
    // A hole in black, an island of white in it, and the mask's own frame at 50.
    let holed = r##"<g fill="#fff"><rect width="100" height="80"/><rect x="20" y="20" width="20" height="20" fill="#000"/>
        <rect x="25" y="25" width="10" height="10"/></g>"##;
    near(area(&masked(holed, user)), 2500.0 - 300.0);
    near(area(&masked(holed, &user.replace("100", "50"))), 2000.0 - 300.0);
    near(area(&masked(r#"<rect width="30" height="80" fill="red"/>"#, &format!("{user} mask-type=\"alpha\""))), 1000.0);
    // A line drawn in black cuts off what it covers.
    let cut = r##"<rect width="100" height="80" fill="#fff"/><path d="M0 30H100" stroke="#000" stroke-width="4"/>"##;
    near(area(&masked(cut, user)), 2300.0);
    for soft in [
        r##"<rect width="30" height="80" fill="#888"/>"##,
        r##"<rect width="30" height="80" fill="#fff" opacity=".5"/>"##,
        r##"<linearGradient id="g"><stop stop-color="#fff"/><stop offset="1"/></linearGradient><rect width="30" height="80" fill="url(#g)"/>"##,
    ] {
        let fault = read(&masked(soft, user)).unwrap().outline().unwrap_err();
        assert!(fault.to_string().contains("mask"), "{fault}");
    }
    // Nothing shines through a mask with nothing in it.
    assert!(matches!(read(&masked("", user)).unwrap().outline(), Err(Fault::NoOutline { .. })));
}

#[test]
fn units_and_view_boxes_give_the_proportion() {
    let page = |head: &str| {
        let file = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" {head}><rect x="10" y="10" width="20" height="10"/></svg>"#
        );
        Drawing::read(file.as_bytes(), "a").unwrap()
    };
    let millimetres = page(r#"width="50mm" height="25mm" viewBox="0 0 50 25""#);
    // 96 units to the inch (CSS Values 3, section 6.2).
    assert!((millimetres.size().0 - 50.0 / 25.4 * 96.0).abs() < 1e-3);
    near(millimetres.outline().unwrap().area(), 200.0 * (96.0_f64 / 25.4).powi(2));
    near(page(r#"viewBox="0 0 40 30""#).outline().unwrap().area(), 200.0);
    near(page(r#"width="100%" height="100%" viewBox="5 5 40 30""#).outline().unwrap().area(), 200.0);
}

#[test]
fn use_and_symbols_are_placed_and_nested_clips_meet() {
    let used = r##"<defs><g id="a" transform="scale(2)"><rect width="5" height="5"/></g><symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></symbol></defs>
        <use href="#a" x="10" y="10"/><use xlink:href="#s" x="40" y="10" width="20" height="20" transform="translate(2 3)"/>"##;
    near(area(used), 100.0 + PI * 100.0);
    let nested = r##"<clipPath id="i"><rect width="30" height="30"/></clipPath><clipPath id="o" clip-path="url(#i)"><rect x="20" width="30" height="30"/></clipPath>
        <g clip-path="url(#o)"><rect width="90" height="80"/></g>"##;
    near(area(nested), 300.0);
}

#[test]
fn odd_figures_have_an_outline_or_a_reason() {
    // A bow tie crosses itself; by both rules its two halves are filled.
    for rule in ["nonzero", "evenodd"] {
        let tie =
            read(&format!(r#"<path fill-rule="{rule}" d="M10 10L50 50V10L10 50Z"/>"#)).unwrap().outline().unwrap();
        assert!((tie.area() - 800.0).abs() < 0.5, "{rule} {}", tie.area());
    }
    for nothing in [
        "",
        r#"<path d=""/>"#,
        r#"<path d="M10 10"/>"#,
        r#"<path d="M10 10H50H10Z"/>"#,
        r#"<rect width="0" height="40"/>"#,
        r#"<path fill="none" d="M0 0H9V9"/>"#,
        r#"<rect width="9" height="9" transform="scale(0)"/>"#,
        r#"<rect width="9" height="9" transform="scale(1 0)"/>"#,
        r#"<g transform="matrix(NaN 0 0 1 0 0)"><rect x="500" y="500" width="9" height="9"/></g>"#,
        r#"<rect x="200" y="200" width="9" height="9"/>"#,
    ] {
        match read(nothing).and_then(|drawing| drawing.outline().map_err(|fault| fault.of("art/a.svg"))) {
            Err(error) => assert!(error.to_string().starts_with("art/a.svg: "), "{nothing}: {error}"),
            Ok(outline) => panic!("{nothing}: {}", outline.area()),
        }
    }
}

#[test]
fn a_stray_place_far_off_leaves_the_rest_as_fine_as_it_was() {
    let stray = r#"<circle cx="50" cy="40" r="20"/><path d="M-1e15 -1e15H-1e14V-1e14Z M1e9 5H1e9V6"/><rect x="-1e9" y="70" width="2e9" height="5"/>"#;
    near(area(stray), PI * 400.0 + 500.0);
    near(area(r#"<g transform="scale(1e6)"><circle cx="5e-5" cy="4e-5" r="2e-5"/></g>"#), PI * 400.0);
    for size in ["1e30", "2e6", "1e-9"] {
        let file = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='{size}' height='{size}'><rect width='9' height='9'/></svg>"
        );
        assert!(Drawing::read(file.as_bytes(), "a").is_err(), "{size}");
    }
}

#[test]
fn thousands_of_subpaths_are_cut() {
    let many: String = (0..20_000).map(|n| format!("M{} {}h.3v.3h-.3z", n % 200, f64::from(n / 200) * 0.5)).collect();
    let outline = read(&format!(r#"<path transform="scale(.5 1)" d="{many}"/>"#)).unwrap().outline().unwrap();
    assert_eq!(outline.rings.len(), 20_000);
}

#[test]
fn what_is_not_taken_as_drawn_is_told() {
    let remarks = |body: &str| read(body).unwrap().remarks().to_vec();
    let text =
        |family: &str, text: &str| format!(r#"<text y="40" font-size="20" font-family="{family}">{text}</text>"#);
    assert_eq!(remarks(&text("Inter", "Ann")), []);
    assert_eq!(remarks(&text("sans-serif", "Ann")), []);
    assert_eq!(remarks("<text y='40'>Ann</text>"), []);
    let asked = Remark::OtherTypeface(vec!["Swashbuckler".into(), "cursive".into()]);
    assert_eq!(remarks(&(text("Swashbuckler, sans-serif", "Ann") + &text("cursive", "Bo"))), [asked]);
    assert_eq!(remarks(&text("Inter", "An\u{1f382}n")), [Remark::NoSign(vec!["\u{1f382}".into()])]);
    let effect =
        r##"<filter id="f"><feGaussianBlur stdDeviation="2"/></filter><rect width="9" height="9" filter="url(#f)"/>"##;
    assert_eq!(remarks(effect), [Remark::Effect]);
    assert_eq!(remarks("<foreignObject width='9' height='9'/>"), [Remark::ForeignObject]);
}

#[test]
fn text_is_set_in_the_bundled_typeface() {
    let text =
        |family| read(&format!(r#"<text x="5" y="60" font-size="40" font-family="{family}">Bo⌀</text>"#)).unwrap();
    let outline = text("Inter").outline().unwrap();
    assert_eq!(outline.faces().iter().map(|face| face.holes.len()).sum::<usize>(), 5);
    assert_eq!(outline, text("Some Font Nobody Has").outline().unwrap());
}

#[test]
fn painting_fills_the_asked_pixels_with_straight_alpha() {
    let drawing = read(r##"<rect x="50" width="50" height="80" fill="#ff8000" fill-opacity=".5"/>"##).unwrap();
    let picture = drawing.paint(40, 10);
    assert_eq!((picture.width, picture.height), (40, 10));
    assert_eq!(picture.pixel(10, 5), Some([0; 4]));
    let [red, green, blue, alpha] = picture.pixel(30, 5).unwrap();
    assert!(red == 255 && green.abs_diff(128) < 2 && blue == 0 && alpha.abs_diff(128) < 2);
    let part = drawing.paint_part(Part { left: 0.25, width: 0.5, ..Part::WHOLE }, 10, 10);
    assert_eq!((part.pixel(4, 0).unwrap()[3], part.pixel(5, 9).unwrap()[3]), (0, alpha));
    assert_eq!(drawing.paint(0, 10), Picture::default());
    assert_eq!(drawing.paint(u32::MAX, u32::MAX), Picture::default());
}

#[test]
fn whatever_lies_outside_is_refused_and_named() {
    let cases = [
        (r#"<use href="other.svg#a"/>"#, "other.svg#a"),
        (r#"<use xlink:href="http://example.org/a.svg#b"/>"#, "http://example.org/a.svg#b"),
        (r#"<image href="/etc/passwd"/>"#, "/etc/passwd"),
        (r#"<image xlink:href="../secret.png"/>"#, "../secret.png"),
        (r#"<rect fill="url(paints.svg#p)" width="9" height="9"/>"#, "paints.svg#p"),
        (r#"<rect style="fill:url('file:///p#q')" width="9" height="9"/>"#, "file:///p#q"),
        (r#"<style>@import "a.css";</style>"#, "a.css"),
        (r#"<style>@font-face{src:url(a.ttf)}</style>"#, "a.ttf"),
        (r#"<filter id="f"><feImage href="a.png"/></filter>"#, "a.png"),
        (r#"<?xml-stylesheet href="a.css"?>"#, "href=\"a.css"),
    ];
    for (body, expected) in cases {
        match fault(&format!("\n  {body}")) {
            Fault::External { reference, line, .. } => {
                assert!(reference.starts_with(expected) && line == 2, "{reference}");
            }
            other => panic!("{body}: {other}"),
        }
    }
    let entity = format!("<!DOCTYPE svg [\n<!ENTITY x SYSTEM \"file:///etc/passwd\">]>{}", svg("<text>&x;</text>"));
    let fault = Drawing::read(entity.as_bytes(), "a").unwrap_err().fault;
    assert_eq!(fault, Fault::External { reference: "file:///etc/passwd".to_owned(), line: 2, column: 1 });
}

#[test]
fn inner_references_and_links_to_read_are_welcome() {
    let fine = r##"<a href="https://example.org/"><rect id="r" width="10" height="10" fill="url(#g)"/></a>
        <linearGradient id="g"><stop stop-color="red"/></linearGradient><use href="#r" x="20"/>"##;
    near(area(fine), 200.0);
    let typed = format!(
        "<?xml version=\"1.0\"?><!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \
         \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\" [<!ENTITY ns \"http://example.org/\">]>{}",
        svg(r#"<g xmlns:x="&ns;"><rect width="10" height="10"/></g>"#)
    );
    assert!(Drawing::read(typed.as_bytes(), "a").is_ok());
}

#[test]
fn an_embedded_picture_is_refused_with_its_place() {
    let found = fault("\n<image width=\"9\" height=\"9\" href=\"data:image/png;base64,iVBORw0KGgo=\"/>");
    assert!(matches!(found, Fault::Unsupported { line: 2, column: 1, .. }), "{found}");
}

/// Ten groups, each showing the one before ten times over.
fn doubling(reference: &str, levels: u32) -> String {
    (0..levels).fold(r#"<path id="e0" d="M0 0H9V9Z"/>"#.to_owned(), |mut body, level| {
        let show = reference.replace('?', &level.to_string()).repeat(10);
        let _ = write!(body, r#"<g id="e{}">{show}</g>"#, level + 1);
        body
    })
}

#[test]
fn bombs_are_refused_before_they_unfold() {
    let laughs = (0..9).fold("<!ENTITY a0 \"haha\">".to_owned(), |mut text, level| {
        let _ = write!(text, "<!ENTITY a{} \"{}\">", level + 1, format!("&a{level};").repeat(10));
        text
    });
    let laughs = format!("<!DOCTYPE svg [{laughs}]>{}", svg("<text>&a9;</text>"));
    let long = format!("<!DOCTYPE svg [<!ENTITY a \"{}\">]>{}", "x".repeat(100_000), svg(&"&a;".repeat(100_000)));
    let bodies = [
        doubling(r##"<use href="#e?"/>"##, 9),
        // Patterns within patterns, clip paths within clip paths.
        doubling(r##"<rect width="9" height="9" fill="url(#e?)"/>"##, 9),
        doubling(r##"<rect width="9" height="9" style="clip-path:url(#e?)"/>"##, 9),
        format!(
            r##"<style>path{{marker-mid:url(#m)}}</style><marker id="m">{}</marker><path d="M0 0{}"/>"##,
            "<rect/>".repeat(1000),
            "h1v1".repeat(10_000)
        ),
        format!("{}{}", "<g>".repeat(50_000), "</g>".repeat(50_000)),
        (0..200).map(|n| format!(r##"<g id="e{n}"><use href="#e{}"/></g>"##, n + 1)).collect(),
        r##"<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>"##.to_owned(),
        "<g/>".repeat(400_000),
        format!("<text>{}</text>", "x".repeat(1_000_000)),
    ];
    let files = bodies.iter().map(|body| svg(body)).chain([laughs, long, " ".repeat(MAX_DRAWING_BYTES + 1)]);
    for (case, file) in files.enumerate() {
        let error = Drawing::read(file.as_bytes(), "bomb.svg").unwrap_err();
        assert!(matches!(error.fault, Fault::TooMuch { .. } | Fault::Damaged { .. }), "{case}: {error}");
    }
}

#[test]
fn the_deepest_drawing_still_works_and_so_does_a_large_one() {
    let deep = format!("{}<rect width='9' height='9'/>{}", "<g opacity='.9'>".repeat(60), "</g>".repeat(60));
    let drawing = read(&deep).unwrap();
    near(drawing.outline().unwrap().area(), 81.0);
    assert!(drawing.paint(64, 64).pixel(2, 2).unwrap()[3] > 0);
    let squares: String = (0..20_000)
        .map(|n| format!(r#"<rect x="{}" y="{}" width=".4" height=".4"/>"#, n % 100, f64::from(n / 100) * 0.4))
        .collect();
    assert_eq!(read(&squares).unwrap().outline().unwrap().faces().len(), 100);
}

#[test]
fn malformed_files_are_refused_without_a_panic() {
    for file in [
        "",
        "<",
        "<svg",
        "<svg/>",
        "hello",
        "<svg><g></svg>",
        "<svg xmlns='http://www.w3.org/2000/svg' width='0' height='9'/>",
    ] {
        assert!(Drawing::read(file.as_bytes(), "a").is_err(), "{file}");
    }
    assert!(Drawing::read(&[0xff, 0xfe, b'<', 0], "a").is_err());
    let error = Drawing::read(svg("\n<g>\n</h>").as_bytes(), "art/a.svg").unwrap_err().to_string();
    assert!(error.starts_with("art/a.svg: the SVG is damaged") && error.contains("3:"), "{error}");
    let sizes = ["1e30", "1e-30", "NaN", "-5", "999999999"];
    let wild = sizes.map(|size| format!("<svg xmlns='http://www.w3.org/2000/svg' width='{size}' height='{size}'><path d='M0 0 H1e38 V-1e38 C1 1 1e38 1e38 NaN' stroke='red' stroke-width='1e30' stroke-dasharray='1e-9' transform='scale(1e30)'/></svg>"));
    for file in wild {
        if let Ok(drawing) = Drawing::read(file.as_bytes(), "a") {
            let _ = drawing.outline();
            let _ = drawing.paint(16, 16);
        }
    }
}

#[test]
fn a_changed_byte_never_panics() {
    let file = svg(
        r##"<defs><pattern id="p" width=".2" height=".2"><circle r="2"/></pattern><clipPath id="c"><rect width="50" height="50"/></clipPath></defs>
        <g transform="rotate(5)" clip-path="url(#c)"><path fill="url(#p)" stroke="red" d="M1 2C3 4 50 6 70 8A9 8 7 1 0 50 50Z"/><text x="5" y="9">ab</text></g>"##,
    );
    for at in 0..file.len() {
        for change in [b'0', b'-', b' ', b'9', b'>'] {
            let mut bytes = file.clone().into_bytes();
            bytes[at] = change;
            if let Ok(drawing) = Drawing::read(&bytes, "a") {
                let _ = drawing.outline();
                let _ = drawing.paint(16, 16);
            }
        }
        let _ = Drawing::read(&file.as_bytes()[..at], "a");
    }
}

#[test]
fn svgs_are_told_by_their_contents() {
    assert!(looks_like_svg(svg("").as_bytes()) && looks_like_svg(b"\xef\xbb\xbf <?xml?><!-- --><s:svg/>"));
    assert!(!looks_like_svg(b"<html>") && !looks_like_svg(b"") && !looks_like_svg(b"\x89PNG<svg"));
}

#[test]
fn a_tangle_is_refused() {
    // 20,000 long edges from everywhere to everywhere, by a linear congruence (any will do).
    let corner = |n: u64| (n * 7919 % 9973 % 100, n * 104_729 % 7907 % 80);
    let tangle = (0..20_000).map(corner).fold("M0 0".to_owned(), |mut path, (x, y)| {
        let _ = write!(path, " {x} {y}");
        path
    });
    let drawing = read(&format!(r#"<path d="{tangle}"/>"#)).unwrap();
    assert!(matches!(drawing.outline(), Err(Fault::TooMuch { .. })));
}
