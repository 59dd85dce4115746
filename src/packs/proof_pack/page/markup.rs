//! Facts as HTML: whatever a person typed stays text.

use std::fmt::Write;

use crate::packs::pdf::{Align, Cell, Row, Table};
use crate::packs::proof_pack::section::{Block, Section, Tone};
use crate::packs::svg::escaped;

/// A section with its heading; `number` keeps its name unique in the page.
pub(super) fn section(section: &Section, number: usize) -> String {
    let mut out =
        format!("<section aria-labelledby=\"s{number}\">\n<h2 id=\"s{number}\">{}</h2>\n", escaped(&section.heading));
    let mut in_list = false;
    for block in &section.blocks {
        let is_entry = matches!(block, Block::Entry(_));
        if is_entry != in_list {
            out += if is_entry { "<ul>\n" } else { "</ul>\n" };
            in_list = is_entry;
        }
        match block {
            Block::Text(text, tone) => out += &paragraphs(text, *tone),
            Block::Entry(text) => {
                let _ = writeln!(out, "<li>{}</li>", escaped(text));
            }
            Block::Table(table) => out += &self::table(table, &section.heading),
        }
    }
    out += if in_list { "</ul>\n</section>\n" } else { "</section>\n" };
    out
}

/// A text with a paragraph a line.
fn paragraphs(text: &str, tone: Tone) -> String {
    let class = match tone {
        Tone::Plain => "",
        Tone::Strong => " class=\"strong\"",
        Tone::Alert => " class=\"strong alert\"",
        Tone::Remark => " class=\"remark\"",
    };
    let lines = text.lines().filter(|line| !line.trim().is_empty());
    lines.map(|line| format!("<p{class}>{}</p>\n", escaped(line))).collect()
}

fn table(table: &Table, name: &str) -> String {
    let mut out = format!(
        "<div class=\"wide\" role=\"group\" tabindex=\"0\" aria-label=\"{}, table\"><table>\n<thead><tr>",
        escaped(name)
    );
    let class = |align: Align| if align == Align::Right { " class=\"figure\"" } else { "" };
    for column in &table.columns {
        let _ = write!(out, "<th scope=\"col\"{}>{}</th>", class(column.align), escaped(&column.title));
    }
    out += "</tr></thead>\n<tbody>\n";
    for row in &table.rows {
        match row {
            Row::Group(title) => {
                let span = table.columns.len();
                let _ = writeln!(
                    out,
                    "</tbody>\n<tbody>\n<tr><th scope=\"rowgroup\" colspan=\"{span}\">{}</th></tr>",
                    escaped(title)
                );
            }
            Row::Cells(cells) => {
                out += "<tr>";
                for (number, (cell, column)) in cells.iter().zip(&table.columns).enumerate() {
                    let (tag, scope) = if number == 0 { ("th", " scope=\"row\"") } else { ("td", "") };
                    let _ = write!(out, "<{tag}{scope}{}>{}</{tag}>", class(column.align), self::cell(cell));
                }
                out += "</tr>\n";
            }
        }
    }
    // A table that begins with a group has an empty body before it.
    (out + "</tbody>\n</table></div>\n").replace("<tbody>\n</tbody>\n", "")
}

fn cell(cell: &Cell) -> String {
    let dots = cell.dots.iter().map(|colour| {
        format!("<svg class=\"dot\" viewBox=\"0 0 10 10\" aria-hidden=\"true\"><circle cx=\"5\" cy=\"5\" r=\"4.5\" fill=\"{colour}\"/></svg>")
    });
    dots.collect::<String>() + &escaped(&cell.text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Colour;
    use crate::packs::pdf::Column;

    #[test]
    fn whatever_a_person_typed_stays_text() {
        let mut facts = Section::new("Notes & <more>");
        facts.text(Tone::Alert, "<script>alert(1)</script>\n\nsecond \"line\"");
        facts.entry("a & b");
        facts.entry("c");
        facts.text(Tone::Plain, "after");
        let html = section(&facts, 3);
        assert!(html.contains("<h2 id=\"s3\">Notes &amp; &lt;more&gt;</h2>"), "{html}");
        assert!(html.contains(
            "<p class=\"strong alert\">&lt;script&gt;alert(1)&lt;/script&gt;</p>\n<p class=\"strong alert\">second"
        ));
        assert!(html.contains("<ul>\n<li>a &amp; b</li>\n<li>c</li>\n</ul>\n<p>after</p>\n</section>"), "{html}");
    }

    #[test]
    fn a_table_says_what_heads_what() {
        let columns = vec![Column::words("Piece", 1.0), Column::figures("High", 1.0)];
        let dotted = Cell { text: "gold".into(), dots: vec![Colour::new(200, 160, 0)] };
        let rows = vec![Row::Group("base".into()), Row::Cells(vec![dotted, "1 in".into()])];
        let mut facts = Section::new("Sizes");
        facts.table(Table { columns, rows });
        let html = section(&facts, 1);
        assert!(html.contains("<th scope=\"col\" class=\"figure\">High</th></tr></thead>\n<tbody>\n<tr><th scope=\"rowgroup\" colspan=\"2\">base"), "{html}");
        assert!(html.contains("fill=\"#c8a000\"/></svg>gold</th><td class=\"figure\">1 in</td>"), "{html}");
    }
}
