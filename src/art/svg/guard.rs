//! What is looked at before a drawing is taken apart: does it point outside itself, and how much does it unfold into?
//!
//! A few lines of SVG can stand for billions of shapes, since one element may be shown by many others. So every element
//! is weighed first: itself, its children, and whatever it refers to, as often as that can be shown.

use std::collections::BTreeMap;

use resvg::usvg::roxmltree::{Attribute, Document, Node};

use super::super::error::Fault;

const NAMESPACE: &str = "http://www.w3.org/2000/svg";
/// Most nodes of a file, texts and comments counted.
pub(super) const MAX_NODES: u32 = 300_000;
/// Most elements a drawing may unfold into.
const MAX_WEIGHT: u64 = 300_000;
/// Deepest nesting, with what is referred to counted as nested.
const MAX_DEPTH: usize = 64;
/// Most text that entities may add to a file, bytes.
const MAX_ENTITY_BYTES: usize = 64 << 20;

/// Entities are expanded by the XML reader itself, so they are looked at in the bare text.
pub(super) fn check_entities(text: &str) -> Result<(), Fault> {
    let Some(first) = text.find("<!ENTITY") else { return Ok(()) };
    for (start, _) in text.match_indices("<!ENTITY") {
        let declaration = text.get(start..).unwrap_or_default().split('>').next().unwrap_or_default();
        if let Some(reference) = ["SYSTEM", "PUBLIC"].iter().find_map(|word| declaration.split_once(word)) {
            let (line, column) = position(text, start);
            return Err(Fault::External { reference: shorten(reference.1), line, column });
        }
    }
    // The reader follows at most 255 entities within one; each is at most as long as all declarations together.
    let declarations = text.get(first..).and_then(|rest| rest.find("]>")).unwrap_or(text.len());
    let uses = text.bytes().filter(|&byte| byte == b'&').count();
    if declarations.saturating_mul(uses).saturating_mul(255) > MAX_ENTITY_BYTES {
        return Err(too_much("its entities stand for too much text"));
    }
    Ok(())
}

/// Refuses what points outside the drawing, what cannot be drawn, and what unfolds into too much.
pub(super) fn check(document: &Document) -> Result<(), Fault> {
    let root = document.root_element().tag_name();
    if root.name() != "svg" || root.namespace() != Some(NAMESPACE) {
        let reason = format!("its first element is not `svg` of {NAMESPACE}");
        return Err(Fault::Damaged { kind: "SVG", reason });
    }
    for node in document.descendants() {
        check_node(&node)?;
    }
    let weigher = &mut Weigher::new(document);
    weigher.weigh(document.root_element(), 0)?;
    let styles = document.descendants().filter(|node| node.has_tag_name_of("style"));
    let total =
        styles.flat_map(|style| style.descendants()).filter_map(|node| node.text()).try_fold(0, |sum, css| {
            let times = if css.contains("marker") { weigher.all_corners } else { u64::from(weigher.elements) };
            links(css).try_fold(sum, |sum: u64, link| {
                Ok(sum.saturating_add(weigher.target(link, 0)?.0.saturating_mul(times)))
            })
        })?;
    if total > MAX_WEIGHT { Err(unfolds()) } else { Ok(()) }
}

fn check_node(node: &Node) -> Result<(), Fault> {
    let at = |start: usize| {
        let place = node.document().text_pos_at(start);
        (place.row, place.col)
    };
    let outside = |reference: &str, start: usize| {
        let (line, column) = at(start);
        Err(Fault::External { reference: shorten(reference), line, column })
    };
    if let Some(instruction) = node.pi().filter(|instruction| instruction.target == "xml-stylesheet") {
        return outside(instruction.value.unwrap_or_default(), node.range().start);
    }
    if node.parent().is_some_and(|parent| parent.has_tag_name_of("style")) {
        let css = node.text().unwrap_or_default();
        if let Some(reference) = css.split_once("@import").map(|(_, rest)| rest).or_else(|| urls(css).find(leads_out)) {
            return outside(reference, node.range().start);
        }
    }
    for attribute in node.attributes() {
        // A hyperlink leads somewhere only when it is clicked.
        let shown = attribute.name() == "href" && !node.has_tag_name_of("a");
        let reference = Some(attribute.value().trim()).filter(|target| shown && leads_out(target));
        if let Some(reference) = reference.or_else(|| urls(attribute.value()).find(leads_out)) {
            return outside(reference, attribute.range().start);
        }
    }
    if node.has_tag_name_of("image") || node.has_tag_name_of("feImage") {
        let (line, column) = at(node.range().start);
        let what = "a picture is embedded in the drawing, and only its shapes would be drawn; take the picture out, or save \
                    the whole as PNG";
        return Err(Fault::Unsupported { what, line, column });
    }
    Ok(())
}

/// Weighs elements, each once.
struct Weigher<'a> {
    /// Several elements may wear one name by mistake; all of them are counted.
    by_id: BTreeMap<&'a str, Vec<Node<'a, 'a>>>,
    /// Weight and height of each node that has been weighed; `None` while it is being weighed.
    known: BTreeMap<usize, Option<(u64, usize)>>,
    elements: u32,
    all_corners: u64,
}

impl<'a> Weigher<'a> {
    fn new(document: &'a Document<'a>) -> Self {
        let elements = || document.descendants().filter(Node::is_element);
        let mut by_id = BTreeMap::<&str, Vec<Node>>::new();
        for (id, node) in elements().filter_map(|node| Some((node.attribute("id")?, node))) {
            by_id.entry(id).or_default().push(node);
        }
        let all_corners = corners(document.root());
        Self {
            by_id,
            known: BTreeMap::new(),
            elements: u32::try_from(elements().count()).unwrap_or(u32::MAX),
            all_corners,
        }
    }

    /// How many elements this one unfolds into, and how deeply they nest.
    fn weigh(&mut self, node: Node<'a, 'a>, depth: usize) -> Result<(u64, usize), Fault> {
        let key = node.id().get_usize();
        if let Some(&known) = self.known.get(&key) {
            return known.ok_or_else(|| too_much("its elements refer to each other in a circle"));
        }
        if depth > MAX_DEPTH {
            return Err(too_much("its elements nest too deeply"));
        }
        self.known.insert(key, None);
        let (mut weight, mut height) = (own_weight(node), 0);
        let mut add = |(part, part_height): (u64, usize), times: u64| {
            weight = weight.saturating_add(part.saturating_mul(times));
            height = height.max(part_height + 1);
        };
        for child in node.children().filter(|child| child.is_element() || drawn_text(child)) {
            add(self.weigh(child, depth + 1)?, 1);
        }
        for attribute in node.attributes() {
            for link in targets(&attribute) {
                let times = times_shown(node, &attribute);
                add(self.target(link, depth + 1)?, times);
            }
        }
        if weight > MAX_WEIGHT {
            return Err(unfolds());
        }
        if height > MAX_DEPTH {
            return Err(too_much("its elements nest too deeply"));
        }
        self.known.insert(key, Some((weight, height)));
        Ok((weight, height))
    }

    /// The weight of what a link leads to. Gradients are drawn with what they colour, and weigh nothing themselves.
    fn target(&mut self, id: &str, depth: usize) -> Result<(u64, usize), Fault> {
        let gradient = |node: &Node| ["linearGradient", "radialGradient"].iter().any(|tag| node.has_tag_name_of(tag));
        let named = self.by_id.get(id).cloned().unwrap_or_default();
        named.into_iter().filter(|node| !gradient(node)).try_fold((0_u64, 0), |(weight, height), node| {
            let (more, its_height) = self.weigh(node, depth)?;
            Ok((weight.saturating_add(more), height.max(its_height)))
        })
    }
}

/// An element counts for one, with a long path for more; a letter becomes a path of its own.
fn own_weight(node: Node) -> u64 {
    let letters = if node.is_text() { node.text().unwrap_or_default().trim().len() } else { 0 };
    let paths = node.attributes().filter(|path| matches!(path.name(), "d" | "points"));
    1 + 4 * letters as u64 + paths.map(|path| path.value().len() as u64 / 64).sum::<u64>()
}

/// How often what an attribute refers to may be shown: a marker at every corner below it, a fill or stroke (which
/// children inherit) by every element below it, anything else once.
fn times_shown(node: Node, attribute: &Attribute) -> u64 {
    let mentions = |word| attribute.name().contains(word) || attribute.value().contains(word);
    if attribute.name() == "href" {
        1
    } else if mentions("marker") {
        corners(node)
    } else if mentions("fill") || mentions("stroke") {
        node.descendants().filter(Node::is_element).count() as u64
    } else {
        1
    }
}

/// At least the number of corners of all paths below a node: two characters are the least that one takes.
fn corners(node: Node) -> u64 {
    let paths = node.descendants().flat_map(|node| node.attributes());
    paths.filter(|path| matches!(path.name(), "d" | "points")).map(|path| 1 + path.value().len() as u64 / 2).sum()
}

fn drawn_text(node: &Node) -> bool {
    let lettering = |parent: Node| ["text", "tspan", "textPath", "a"].iter().any(|tag| parent.has_tag_name_of(tag));
    node.is_text() && node.parent().is_some_and(lettering)
}

/// Names of the elements that an attribute refers to.
fn targets<'a>(attribute: &Attribute<'a, '_>) -> impl Iterator<Item = &'a str> + use<'a> {
    let value = attribute.value();
    let href = (attribute.name() == "href").then(|| value.trim().strip_prefix('#')).flatten();
    href.into_iter().chain(links(value))
}

fn links(text: &str) -> impl Iterator<Item = &str> {
    urls(text).filter_map(|target| target.strip_prefix('#'))
}

/// What stands in every `url(…)` of a text.
fn urls(text: &str) -> impl Iterator<Item = &str> {
    text.split("url(")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
        .map(|target| target.trim_matches(BLANK_OR_QUOTE))
}

const BLANK_OR_QUOTE: [char; 6] = [' ', '\t', '\n', '\r', '"', '\''];

fn leads_out(target: &&str) -> bool {
    !target.is_empty() && !target.starts_with('#') && !target.starts_with("data:")
}

fn shorten(reference: &str) -> String {
    reference.trim_matches([' ', '"', '\'', '(', ')', ';', '\n', '\r']).chars().take(120).collect()
}

fn position(text: &str, offset: usize) -> (u32, u32) {
    let before = text.get(..offset).unwrap_or_default();
    let line = before.bytes().filter(|&byte| byte == b'\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
    (u32::try_from(line).unwrap_or(u32::MAX), u32::try_from(column).unwrap_or(u32::MAX))
}

fn too_much(what: &str) -> Fault {
    Fault::TooMuch { what: what.to_owned() }
}

fn unfolds() -> Fault {
    Fault::TooMuch { what: format!("the drawing unfolds into more than {MAX_WEIGHT} elements") }
}

/// Tag names without their namespace: prefixes differ between drawing programs.
trait TagName {
    fn has_tag_name_of(&self, tag: &str) -> bool;
}

impl TagName for Node<'_, '_> {
    fn has_tag_name_of(&self, tag: &str) -> bool {
        self.is_element() && self.tag_name().name() == tag
    }
}
