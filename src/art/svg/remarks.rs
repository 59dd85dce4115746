//! What of a drawing is not cut, or not printed, as it was drawn.

use std::collections::BTreeSet;

use resvg::usvg::{FontFamily, Group, Node, Text, Tree, roxmltree};

/// Most typefaces or signs that are named.
const NAMED: usize = 5;

/// Something in a drawing that is not taken as it was drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Remark {
    /// Its text asks for typefaces that are not bundled, and is set in another.
    OtherTypeface(Vec<String>),
    /// Its text has signs that no bundled typeface has.
    NoSign(Vec<String>),
    /// It has shadows, blurs or other effects, which have no edge to cut along.
    Effect,
    /// It holds a web page or rich text, which is not drawn.
    ForeignObject,
}

/// What is to be said of a drawing.
pub(super) fn remarks(document: &roxmltree::Document, tree: &Tree) -> Vec<Remark> {
    let mut found = Found::default();
    found.walk(tree.root());
    let named = |names: BTreeSet<String>| names.into_iter().take(NAMED).collect::<Vec<_>>();
    let foreign = document.descendants().any(|node| node.is_element() && node.tag_name().name() == "foreignObject");
    let said = [
        (!found.typefaces.is_empty(), Remark::OtherTypeface(named(found.typefaces))),
        (!found.signs.is_empty(), Remark::NoSign(named(found.signs))),
        (found.effect, Remark::Effect),
        (foreign, Remark::ForeignObject),
    ];
    said.into_iter().filter(|(holds, _)| *holds).map(|(_, remark)| remark).collect()
}

#[derive(Default)]
struct Found {
    typefaces: BTreeSet<String>,
    signs: BTreeSet<String>,
    effect: bool,
}

impl Found {
    fn walk(&mut self, group: &Group) {
        self.effect |= !group.filters().is_empty();
        for node in group.children() {
            match node {
                Node::Group(group) => self.walk(group),
                Node::Text(text) => self.text(text),
                Node::Path(_) | Node::Image(_) => {}
            }
        }
    }

    fn text(&mut self, text: &Text) {
        for span in text.chunks().iter().flat_map(resvg::usvg::TextChunk::spans) {
            // The first one is what was meant; the others were to stand in for it.
            let asked = match span.font().families().first() {
                None | Some(FontFamily::SansSerif) => continue,
                Some(FontFamily::Named(name)) => name.clone(),
                Some(kind) => kind.to_string(),
            };
            if !super::FAMILIES.iter().any(|known| asked.eq_ignore_ascii_case(known)) {
                self.typefaces.insert(asked);
            }
        }
        let glyphs = text.layouted().iter().flat_map(|span| &span.positioned_glyphs);
        // Sign 0 of every typeface is the box that stands for one that it lacks (OpenType, `glyf`).
        self.signs.extend(glyphs.filter(|glyph| glyph.id.0 == 0).map(|glyph| glyph.text.clone()));
    }
}
