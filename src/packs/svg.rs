//! A chart as SVG: true size in mm, text as text, pictures carried in the file; the same chart gives the same bytes.

use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use glam::DVec2;

use super::PackError;
use crate::art::{Picture, Typeface, encode_png};
use crate::proof::chart::{Chart, Lettering, Mark};
use crate::proof::ink::PAPER;

/// The chart as the text of an SVG file.
///
/// # Errors
/// [`PackError::Writer`] for a picture without pixels.
pub fn svg(chart: &Chart) -> Result<String, PackError> {
    let (width, height) = (number(chart.size.x), number(chart.size.y));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" \
         font-family=\"Inter, 'DejaVu Sans', Arial, sans-serif\">\n<title>{}</title>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"{PAPER}\"/>\n",
        escaped(&chart.title)
    );
    out += &svg_marks(chart)?;
    Ok(out + "</svg>\n")
}

/// The chart's marks alone, to stand inside an SVG of the chart's own size.
///
/// # Errors
/// As [`svg`].
pub fn svg_marks(chart: &Chart) -> Result<String, PackError> {
    let mut out = String::new();
    for mark in &chart.marks {
        let line = match mark {
            Mark::Area { rings, colour, opacity } => {
                let path: String = rings.iter().map(|ring| path(ring) + "Z").collect();
                format!(
                    "<path d=\"{path}\" fill-rule=\"evenodd\" fill=\"{colour}\"{}/>",
                    seen("fill-opacity", *opacity)
                )
            }
            Mark::Line { points, pen } => {
                let dashes: Vec<String> = pen.dashes.iter().map(|&length| number(length)).collect();
                let dashes = if dashes.is_empty() {
                    String::new()
                } else {
                    format!(" stroke-dasharray=\"{}\"", dashes.join(" "))
                };
                format!(
                    "<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"{dashes}{}/>",
                    path(points),
                    pen.colour,
                    number(pen.width),
                    seen("stroke-opacity", pen.opacity)
                )
            }
            Mark::Text(text) => lettering(text),
            Mark::Picture { low, high, picture } => embedded([*low, *high], picture)?,
        };
        out += &line;
        out.push('\n');
    }
    Ok(out)
}

/// `textLength` holds the layout in whatever font the reader has. The paper round letters is a text of its own beneath them:
/// not every reader knows `paint-order`.
fn lettering(text: &Lettering) -> String {
    let hand = text.hand;
    let weight = if hand.face == Typeface::Strong { " font-weight=\"600\"" } else { "" };
    let slant = if hand.face == Typeface::Slanted { " font-style=\"italic\"" } else { "" };
    let [x, y, size, width] = [text.at.x, text.at.y, hand.size, text.width].map(number);
    let set = |paint: &str| {
        format!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" textLength=\"{width}\" lengthAdjust=\"spacingAndGlyphs\"{weight}{slant} \
             {paint}>{}</text>",
            escaped(&text.text)
        )
    };
    let halo = hand.halo.then(|| {
        let wide = number(hand.size * 0.34);
        set(&format!(
            "aria-hidden=\"true\" fill=\"{PAPER}\" stroke=\"{PAPER}\" stroke-width=\"{wide}\" stroke-linejoin=\"round\""
        ))
    });
    halo.unwrap_or_default() + &set(&format!("fill=\"{}\"", hand.colour))
}

fn embedded([low, high]: [DVec2; 2], picture: &Picture) -> Result<String, PackError> {
    let png = encode_png(picture)
        .map_err(|error| PackError::Writer { file: "the chart's SVG", reason: error.to_string() })?;
    let [x, y, width, height] = [low.x, low.y, high.x - low.x, high.y - low.y].map(number);
    Ok(format!(
        "<image x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" preserveAspectRatio=\"none\" \
         href=\"data:image/png;base64,{}\"/>",
        STANDARD.encode(&png)
    ))
}

pub(super) fn path(points: &[DVec2]) -> String {
    let mut path = String::new();
    for (n, at) in points.iter().enumerate() {
        let _ = write!(path, "{}{} {}", if n == 0 { 'M' } else { 'L' }, number(at.x), number(at.y));
    }
    path
}

/// To the thousandth of a millimetre, without idle noughts.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn seen(key: &str, opacity: f64) -> String {
    if opacity >= 1.0 { String::new() } else { format!(" {key}=\"{}\"", number(opacity)) }
}

/// Text as XML has it; what XML can't hold at all becomes a question mark.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            '\t' | '\n' | '\r' => out.push(' '),
            control if control < ' ' || matches!(control, '\u{fffe}' | '\u{ffff}') => out.push('?'),
            character => out.push(character),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::{Colour, Drawing, Stretch};
    use crate::proof::chart::{Align, Hand};

    fn chart() -> Chart {
        let mut chart = Chart::new("Tom & \"Ann\" <3", DVec2::new(40.0, 20.0));
        chart.block([DVec2::new(5.0, 5.0), DVec2::new(15.0, 15.0)], Colour::new(200, 0, 0));
        let pen = Stretch { dashes: vec![2.0, 1.0], opacity: 0.5, ..Stretch::solid(0.5, Colour::new(0, 0, 200)) };
        chart.line([DVec2::new(0.0, 18.0), DVec2::new(30.0, 18.0)], pen);
        chart.text((DVec2::new(20.0, 4.0), Align::Middle), "a<b & \u{1}c", Hand::strong(3.0).on_paper());
        chart
    }

    #[test]
    fn whatever_a_person_typed_stays_text() {
        let text = svg(&chart()).unwrap();
        assert!(text.contains("<title>Tom &amp; &quot;Ann&quot; &lt;3</title>"), "{text}");
        assert!(text.contains(">a&lt;b &amp; ?c</text>") && text.contains("stroke-dasharray=\"2 1\""), "{text}");
        assert!(text.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40mm\" height=\"20mm\""), "{text}");
    }

    #[test]
    fn a_reader_of_svg_paints_what_the_chart_paints() {
        let chart = chart();
        let read = Drawing::read(svg(&chart).unwrap().as_bytes(), "a.svg").unwrap();
        // 96 CSS px to the inch.
        assert!((read.size().0 - 40.0 / 25.4 * 96.0).abs() < 0.01, "{:?}", read.size());
        let (own, other) = (chart.paint(10.0), read.paint(400, 200));
        let far = own.rgba.iter().zip(&other.rgba).filter(|(a, b)| a.abs_diff(**b) > 60).count();
        assert!(far < own.rgba.len() / 50, "{far} of {}", own.rgba.len());
    }

    #[test]
    fn a_picture_is_carried_along() {
        let mut chart = chart();
        let picture = Arc::new(Picture::filled(2, 2, [0, 0, 200, 255]));
        chart.marks.push(Mark::Picture { low: DVec2::ZERO, high: DVec2::new(9.0, 9.0), picture });
        assert!(svg(&chart).unwrap().contains("href=\"data:image/png;base64,iVBORw0KGgo"));
    }
}
