//! `proof.html`: the proof as one page to open on a phone, without a network.
//!
//! It carries everything in itself: words, pictures, the turntable's pictures (`frames`), its look (`style.css`) and the script that
//! turns the cake and words the answer (`turn.js`). A policy in its head lets it fetch nothing and run nothing else. Without a script
//! it is a plain page with the same facts; printed, it has lines to sign on.

mod frames;
mod markup;

use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

use super::cover::{SMALL, glance_fields, order_fields, shot};
use super::{ProofInput, drawings, sections};
use crate::packs::PackError;
use crate::packs::pdf::chart;
use crate::packs::svg::{escaped, svg_marks};
use crate::proof::ink::{ACCENT, INK, MUTED, PAPER, RULE, TONE};

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("turn.js");

/// The bytes of the page.
///
/// # Errors
/// [`PackError::Writer`] for a picture without pixels.
pub(super) fn page(input: &ProofInput) -> Result<Vec<u8>, PackError> {
    let mut out = head(input);
    out += &header(input);
    out += "<main class=\"lay\">\n";
    out += &cake(input)?;
    out += "<div id=\"facts\">\n";
    out += &drawn(input)?;
    for (number, section) in sections(input).iter().enumerate() {
        out += &markup::section(section, number + 1);
    }
    out += &answer(input);
    out += "</div>\n</main>\n";
    let (title, revision) = (escaped(&input.facts.title), escaped(&input.facts.revision));
    let _ = writeln!(out, "<footer>{title} · revision {revision} · made with Tierproof</footer>");
    if !input.turned.is_empty() {
        let _ =
            writeln!(out, "<script type=\"application/json\" id=\"frames\">{}</script>", frames::frames(input.turned)?);
    }
    let _ = writeln!(out, "<script>{SCRIPT}</script>\n</body>\n</html>");
    Ok(out.into_bytes())
}

/// The page's look with the colours that everything of ours has.
fn style() -> String {
    let colours =
        [("paper", PAPER), ("ink", INK), ("muted", MUTED), ("rule", RULE), ("tone", TONE), ("accent", ACCENT)];
    let names = colours.map(|(name, colour)| format!("--{name}: {colour};")).join(" ");
    format!(":root {{ color-scheme: light; {names} }}\n{STYLE}")
}

fn head(input: &ProofInput) -> String {
    let style = style();
    let hash = |text: &str| STANDARD.encode(Sha256::digest(text.as_bytes()));
    let title = escaped(&input.facts.title);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'sha256-{}'; \
         script-src 'sha256-{}'; base-uri 'none'; form-action 'none'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"robots\" content=\"noindex\">\n\
         <title>{title} · cake proof</title>\n<style>{style}</style>\n</head>\n<body>\n",
        hash(&style),
        hash(SCRIPT)
    )
}

fn header(input: &ProofInput) -> String {
    let mut out = String::from(
        "<a class=\"skip\" href=\"#facts\">To the facts</a>\n<header>\n<p class=\"kicker\">Cake proof</p>\n",
    );
    let _ = writeln!(out, "<h1>{}</h1>", escaped(&input.facts.title));
    let _ = writeln!(out, "<p class=\"muted\">revision {}</p>", escaped(&input.facts.revision));
    if let Some(approval) = &input.facts.approval {
        let class = if approval.stands { "strong" } else { "strong alert" };
        let _ = writeln!(out, "<p class=\"{class}\">{}</p>", escaped(&approval.sentence()));
    }
    let fields: Vec<(&str, String)> = order_fields(input).into_iter().chain(glance_fields(input)).collect();
    out += "<dl class=\"order\">\n";
    for (label, value) in fields.iter().filter(|(_, value)| !value.trim().is_empty()) {
        let _ = writeln!(out, "<div><dt>{}</dt><dd>{}</dd></div>", escaped(label), escaped(value));
    }
    out + "</dl>\n</header>\n"
}

/// The pictures: the turntable for whoever has scripts, the large one for whoever has not, the small ones for all.
fn cake(input: &ProofInput) -> Result<String, PackError> {
    let mut out = String::from("<section class=\"cake\" aria-label=\"The cake\">\n");
    if !input.turned.is_empty() {
        out += TURNTABLE;
    }
    if let Some(hero) = shot(input, "customer") {
        out += "<figure class=\"hero\" id=\"hero\">";
        out += &image(&frames::still(&hero.picture)?, "The cake as the customer sees it", hero);
        out += "</figure>\n";
    }
    out += "<ul class=\"small\">\n";
    for (view, name) in SMALL {
        if let Some(small) = shot(input, view) {
            let picture = image(&frames::still(&small.picture)?, &format!("The cake, {name}"), small);
            let _ = writeln!(out, "<li><figure>{picture}<figcaption>{name}</figcaption></figure></li>");
        }
    }
    Ok(out + "</ul>\n</section>\n")
}

fn image(address: &str, words: &str, shot: &crate::proof::shot::Shot) -> String {
    let (width, height) = (shot.picture.width, shot.picture.height);
    format!("<img src=\"{address}\" width=\"{width}\" height=\"{height}\" alt=\"{words}\">")
}

const TURNTABLE: &str = r#"<div id="turntable" hidden>
<div class="stage" id="stage" role="group" tabindex="0" aria-label="The cake on a turntable" aria-describedby="hint">
<div class="sheet" id="sheet"><img id="picture" src="data:," alt="The cake" draggable="false">
<svg id="marks" viewBox="0 0 1 1" aria-hidden="true"><g id="seam-marks"></g><g id="size-marks"></g></svg></div>
</div>
<div class="tools">
<label class="turn"><span>Turn</span><input type="range" id="around" min="-8" max="9" step="1" value="0"></label>
<div class="group">
<button type="button" id="height" aria-pressed="false">Higher up</button>
<button type="button" id="seams" aria-pressed="false">Seams</button>
<button type="button" id="sizes" aria-pressed="false">Sizes</button>
</div>
<div class="group">
<button type="button" id="farther" aria-label="Farther away">−</button>
<button type="button" id="closer" aria-label="Closer">+</button>
</div>
</div>
<p class="muted hint" id="hint">Drag, or use the arrow keys, to turn the cake. Pinch, or use the wheel, to come closer; then drag to look about.</p>
</div>
"#;

/// The cake drawn to scale, for as wide as the page is.
fn drawn(input: &ProofInput) -> Result<String, PackError> {
    let pages = drawings::apart(input);
    if pages.is_empty() {
        return Ok(String::new());
    }
    let mut out = String::from("<section aria-labelledby=\"s0\">\n<h2 id=\"s0\">Drawn to scale</h2>\n");
    out += "<p class=\"remark\">Sizes are of the finished cake; prints are not drawn.</p>\n<div class=\"drawings\">\n";
    for (caption, page) in pages {
        let chart = chart(&page, caption);
        let (width, height) = (chart.size.x, chart.size.y);
        let _ = writeln!(
            out,
            "<figure><svg viewBox=\"0 0 {width:.1} {height:.1}\" role=\"img\" aria-label=\"{caption}\" \
             font-family=\"Inter, 'DejaVu Sans', Arial, sans-serif\">{}</svg><figcaption>{caption}</figcaption></figure>",
            svg_marks(&chart)?
        );
    }
    Ok(out + "</div>\n</section>\n")
}

/// Where the customer answers: a text to send back by whatever way they like; nothing is sent from here.
fn answer(input: &ProofInput) -> String {
    let (title, revision) = (escaped(&input.facts.title), escaped(&input.facts.revision));
    format!(
        r#"<section class="answer" aria-labelledby="answer">
<h2 id="answer">Your answer</h2>
<p class="copy">Nothing is sent from this page. Copy the text and send it to your decorator in a message, as you like best.</p>
<div class="reply" id="reply" data-cake="{title}" data-revision="{revision}" hidden>
<fieldset>
<legend>After looking at everything above</legend>
<label><input type="radio" name="answer" id="approve" value="approve" checked> I approve</label>
<label><input type="radio" name="answer" id="change" value="change"> I ask for a change</label>
</fieldset>
<label class="line" id="wishes" hidden>What should be different?<textarea id="wish" rows="3"></textarea></label>
<label class="line">Your name<input type="text" id="name" autocomplete="name" maxlength="200"></label>
<label class="line">Text to send back<textarea id="text" rows="6" readonly></textarea></label>
<p><button type="button" class="main" id="copy">Copy the text</button> <span id="said" role="status"></span></p>
</div>
<pre class="copy" id="plain">I approve the cake “{title}” as the proof shows and describes it, revision {revision}.
Name:
Date:</pre>
<div class="sign">
<p>Approved, revision {revision}: name</p>
<p>Date and signature</p>
<p>Changes asked for instead</p>
</div>
</section>
"#
    )
}

#[cfg(test)]
mod tests;
