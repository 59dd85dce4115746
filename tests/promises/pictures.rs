//! Art of every make, from files that Pillow wrote (tests/outside/pictures.py makes them and compares every pixel).

use std::path::Path;

use tierproof::art::{Art, Picture, encode_png, read_raster};

fn file(name: &str) -> Vec<u8> {
    std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/promises/pictures").join(name)).expect("fixture")
}

fn read(name: &str) -> Picture {
    read_raster(&file(name), name).unwrap_or_else(|error| panic!("{error}"))
}

/// How far two pictures are apart at most, levels of 255.
fn apart(one: &Picture, other: &Picture) -> u8 {
    assert_eq!((one.width, one.height), (other.width, other.height));
    one.rgba.iter().zip(&other.rgba).map(|(a, b)| a.abs_diff(*b)).max().unwrap_or_default()
}

/// Red grows rightwards, green downwards, the upper left quarter is bluish: the picture of every fixture.
fn shades() -> Picture {
    let pixel = |n: u32| {
        let (x, y) = (n % 24, n / 24);
        [(x * 255 / 23) as u8, (y * 255 / 15) as u8, if x < 12 && y < 8 { 200 } else { 40 }, 255]
    };
    Picture { width: 24, height: 16, rgba: (0..24 * 16).flat_map(pixel).collect() }
}

#[test]
fn a_camera_held_any_way_gives_the_picture_upright() {
    let upright = read("exif-1.jpg");
    // Exif 2.32, tag 0x0112: where the stored picture's first row and first column belong.
    for turn in 1..=8 {
        let turned = read(&format!("exif-{turn}.jpg"));
        let across = turn < 5;
        assert_eq!((turned.width, turned.height), if across { (24, 16) } else { (16, 24) }, "{turn}");
        let stored = |x: u32, y: u32| match turn {
            1 => (x, y),
            2 => (23 - x, y),
            3 => (23 - x, 15 - y),
            4 => (x, 15 - y),
            5 => (y, x),
            6 => (y, 15 - x),
            7 => (23 - y, 15 - x),
            _ => (23 - y, x),
        };
        for (x, y) in [(0, 0), (3, 11), (turned.width - 1, 2), (5, turned.height - 1)] {
            let (column, row) = stored(x, y);
            assert_eq!(turned.pixel(x, y), upright.pixel(column, row), "turn {turn} at {x}, {y}");
        }
    }
    assert_eq!((read("exif-6.png").width, read("exif-6.png").height), (16, 24));
}

#[test]
fn every_make_of_png_and_jpeg_gives_the_same_colours() {
    let shades = shades();
    for (name, allowed) in [("cmyk.jpg", 12), ("progressive.jpg", 12), ("exif-1.jpg", 12), ("animated.png", 0)] {
        let off = apart(&read(name), &shades);
        assert!(off <= allowed, "{name}: {off}");
    }
    let clear = read("clear.png");
    assert!(clear.rgba.chunks(4).zip(shades.rgba.chunks(4)).all(|(a, b)| a[..3] == b[..3]));
    assert_eq!((clear.pixel(0, 5).unwrap()[3], clear.pixel(23, 5).unwrap()[3]), (0, 255));
    let grey = read("grey-and-alpha.png").pixel(12, 8).unwrap();
    assert!(grey[0] == grey[1] && grey[1] == grey[2] && (100..160).contains(&grey[3]), "{grey:?}");
    assert_eq!(read("palette-clear.png").rgba.iter().skip(3).step_by(4).min(), Some(&0));
    for name in ["grey-16.png", "grey-and-alpha-16.png", "colours-16.png", "clear-16.png"] {
        let picture = read(name);
        let (first, last) = (picture.pixel(0, 0).unwrap(), picture.pixel(23, 15).unwrap());
        assert_eq!((first[0], last[0]), (0, 255), "{name}: {first:?} {last:?}");
    }
}

#[test]
fn pictures_of_other_kinds_are_named_in_the_refusal() {
    for (name, kind) in [
        ("animated.gif", "a GIF"),
        ("picture.webp", "a WebP picture"),
        ("picture.bmp", "a BMP picture"),
        ("picture.tif", "a TIFF"),
    ] {
        let message = Art::read(&file(name), &format!("art/{name}")).unwrap_err().to_string();
        let expected = format!("art/{name}: this is {kind}");
        assert!(message.starts_with(&expected) && message.contains("save the picture as PNG"), "{message}");
        assert!(!message.contains('\n'));
    }
}

#[test]
fn a_fixture_cut_anywhere_is_refused_in_one_sentence_or_whole() {
    for name in
        ["exif-6.jpg", "cmyk.jpg", "progressive.jpg", "palette-clear.png", "grey-and-alpha-16.png", "animated.png"]
    {
        let (bytes, whole) = (file(name), read(name));
        for length in 0..bytes.len() {
            match read_raster(&bytes[..length], name) {
                Ok(read) => assert_eq!(read, whole, "{name} cut at {length}"),
                Err(error) => {
                    assert!(error.to_string().starts_with(name) && !error.to_string().contains('\n'), "{error}");
                }
            }
        }
    }
}

#[test]
fn a_line_of_pixels_is_art_and_a_mile_of_it_too() {
    for (name, proportion) in [("line-300x1.png", 300.0), ("line-1x300.png", 1.0 / 300.0)] {
        let art = Art::read(&file(name), name).unwrap();
        assert!((art.proportion() - proportion).abs() < 1e-9);
        assert_eq!((art.paint(40, 30).rgba.len(), art.small().rgba.len()), (4800, 1200));
    }
    let mile = encode_png(&Picture::filled(60_000, 3, [10, 90, 160, 255])).unwrap();
    let art = Art::read(&mile, "mile.png").unwrap();
    assert_eq!(art.pixels(), Some((60_000, 3)));
    assert_eq!(art.paint(2_000, 100).pixel(1_999, 50), Some([10, 90, 160, 255]));
}
