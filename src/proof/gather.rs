//! From the resolved cake to its facts.

use super::carrying::{BoxFacts, caution_facts, stick_facts, support_facts};
use super::facts::{
    BoardFacts, CourseFacts, CutFacts, EndFacts, Facts, FindingFacts, FinishedFacts, NeckFacts, OverallFacts,
    PasteFacts, PickFacts, PieceFacts, PlaceFacts, PlacedFacts, PrintFacts, RepeatFacts, SCHEMA, SeamFacts, SeatFacts,
    ServingFacts, SheetFacts, SizeFacts, StripFacts, ThingFacts, TierFacts, UnderFacts, WrapFacts,
};
use super::working::{price_facts, schedule_facts};
use crate::art::Neck;
use crate::cake::extent::{board_needed, overall};
use crate::cake::pieces::PickMeasure;
use crate::cake::{Cake, CakeTier};
use crate::design::model::{At, Piece, Slice};
use crate::findings::{Finding, Place};
use crate::kitchen::{cake_mass, pastes, piece_mass, portions, portions_by_volume, tier_mass};
use crate::sheets::{Placed, Print, PrintOf, PrintedSheet, SheetPlan};
use crate::wraps::{End, Seam, UnderStrip, WrapPlan};

/// What was worked out about a cake.
#[derive(Clone, Copy, Debug)]
pub struct WorkedOut<'a> {
    /// Its planned wraps.
    pub plans: &'a [WrapPlan],
    /// Where the ends of its bands and ropes meet.
    pub ends: &'a [End],
    /// Its prints on their sheets.
    pub sheets: &'a SheetPlan,
    /// What is to be said of it.
    pub findings: &'a [Finding],
}

/// The facts of a cake and what was worked out about it; `revision` is printed on everything.
#[must_use]
pub fn gather(cake: &Cake, worked: WorkedOut, revision: &str) -> Facts {
    let mut tiers: Vec<TierFacts> = cake.tiers.iter().map(|tier| tier_facts(cake, tier)).collect();
    for end in worked.ends {
        if let Some(course) = tiers.get_mut(end.tier).and_then(|tier| tier.courses.get_mut(end.course)) {
            course.seam = Some(EndFacts { along: end.along, exposure: end.exposure });
        }
    }
    let servings = tiers.iter().fold(ServingFacts::default(), |sum, tier| sum.and(&tier.servings));
    let piece = |number| piece_facts(cake, worked.sheets, number);
    let pieces: Vec<PieceFacts> = (0..cake.pieces.len()).filter_map(piece).collect();
    let supports = support_facts(cake);
    let (low, high) = overall(cake);
    let size = high - low;
    Facts {
        schema: SCHEMA,
        title: cake.design.title.clone(),
        revision: revision.to_owned(),
        // Whoever knows of an approval adds it.
        approval: None,
        unit: cake.design.unit.word().to_owned(),
        tiers,
        wraps: (0..worked.plans.len()).filter_map(|number| wrap_facts(cake, &worked, number)).collect(),
        sticks: stick_facts(&supports, &pieces),
        supports,
        pieces,
        sheets: sheet_facts(worked.sheets),
        pastes: pastes(cake)
            .into_iter()
            .map(|paste| PasteFacts {
                name: paste.name,
                color: paste.colour.to_string(),
                on_cake: paste.on_cake,
                mass: paste.to_mix,
            })
            .collect(),
        board: BoardFacts { across: cake.design.board.size.width.as_mm(), needed: board_needed(cake).as_mm() },
        overall: OverallFacts {
            width: size.x,
            depth: size.z,
            height: size.y,
            mass: cake_mass(cake),
            carton: BoxFacts::round(size),
        },
        servings,
        schedule: schedule_facts(cake, worked.sheets.sheets.len()),
        price: price_facts(cake, worked.sheets.sheets.len()),
        findings: worked.findings.iter().map(finding_facts).collect(),
        cautions: caution_facts(cake),
    }
}

fn tier_facts(cake: &Cake, tier: &CakeTier) -> TierFacts {
    let ordered = cake.design.order.slice;
    let count = |slice: Slice| portions(tier, slice.into());
    let by_volume = |slice: Slice| portions_by_volume(tier, slice.into()).unwrap_or_else(|| count(slice));
    TierFacts {
        name: tier.name.clone(),
        shape: tier.shape.word().to_owned(),
        finished: FinishedFacts {
            across: tier.across().as_mm(),
            depth: tier.depth().as_mm(),
            height: tier.height.as_mm(),
            around: tier.around().as_mm(),
            top_area: tier.outline.area(),
        },
        courses: tier
            .courses
            .iter()
            .map(|course| CourseFacts {
                name: course.name.clone(),
                kind: course.kind.word().to_owned(),
                bottom: course.bottom,
                top: course.top,
                length: course.length.as_mm(),
                seam: None,
            })
            .collect(),
        mass: tier_mass(&cake.design, tier),
        servings: ServingFacts {
            party: count(Slice::Party),
            wedding: count(Slice::Wedding),
            ordered: count(ordered),
            ordered_by_volume: by_volume(ordered),
        },
    }
}

fn wrap_facts(cake: &Cake, worked: &WorkedOut, number: usize) -> Option<WrapFacts> {
    let plan = worked.plans.get(number)?;
    let tier = cake.tiers.get(plan.tier)?;
    let course = tier.courses.get(plan.course)?;
    let strip = |(which, strip): (usize, &crate::wraps::Strip)| StripFacts {
        from: strip.from,
        to: strip.to,
        width: strip.width,
        height: strip.height,
        ppi: plan.ppi,
        sheet: worked.sheets.of_strip(number, which).and_then(|print| print.on),
    };
    Some(WrapFacts {
        tier: tier.name.clone(),
        course: course.name.clone(),
        length: plan.length,
        height: plan.height,
        under_length: plan.under.map(|under| under.length),
        under: plan.under.map(under_facts),
        repeat: plan.repeat.map(|repeat| RepeatFacts { count: repeat.count, scale: repeat.scale, shift: repeat.shift }),
        strips: plan.strips.iter().enumerate().map(strip).collect(),
        seams: plan.seams.iter().map(seam_facts).collect(),
        cost: plan.cost,
    })
}

fn seam_facts(seam: &Seam) -> SeamFacts {
    SeamFacts { along: seam.along, exposure: seam.exposure, pinned: seam.pinned, mismatch: seam.mismatch }
}

fn under_facts(under: UnderStrip) -> UnderFacts {
    UnderFacts {
        length: under.length,
        height: under.height,
        seam: under.seam.map(|seam| seam.along),
        exposure: under.seam.map(|seam| seam.exposure),
    }
}

fn piece_facts(cake: &Cake, sheets: &SheetPlan, number: usize) -> Option<PieceFacts> {
    let placed = cake.pieces.get(number)?;
    let piece = cake.designed(placed)?;
    let measure = &placed.measure;
    Some(PieceFacts {
        name: piece.name.clone(),
        kind: piece.form.kind().to_owned(),
        seat: seat_facts(piece),
        at: place_facts(piece),
        size: SizeFacts {
            width: measure.size.width.as_mm(),
            height: measure.size.height.as_mm(),
            depth: measure.size.depth.as_mm(),
        },
        finishes: measure.volumes.iter().map(|(finish, _)| finish.clone()).collect(),
        mass: piece_mass(&cake.design, placed),
        prints: sheets.of_piece(number).and_then(print_facts).into_iter().collect(),
        cuts: measure
            .cuts
            .iter()
            .map(|cut| CutFacts {
                what: cut.what.clone().into_owned(),
                length: cut.length.as_mm(),
                width: cut.width.as_mm(),
                thickness: cut.thickness.as_mm(),
                count: cut.count,
                paste: cake.design.paste_of(&cut.finish).0,
            })
            .collect(),
        picks: measure.picks.iter().map(pick_facts).collect(),
        necks: measure.necks.iter().map(neck_facts).collect(),
    })
}

fn pick_facts(pick: &PickMeasure) -> PickFacts {
    let enters = pick.enters_piece();
    PickFacts {
        what: pick.kind.word(),
        diameter: pick.diameter.as_mm(),
        length: pick.length.as_mm(),
        into_piece: pick.into_piece.as_mm(),
        into_cake: pick.into_cake.as_mm(),
        x: enters.x,
        up: enters.y,
    }
}

fn print_facts(print: &Print) -> Option<PrintFacts> {
    let PrintOf::Piece { print: of, .. } = &print.of else { return None };
    let (width, height) = (print.size.x, print.size.y);
    Some(PrintFacts { what: of.what.to_owned(), width, height, ppi: print.ppi, sheet: print.on })
}

fn sheet_facts(plan: &SheetPlan) -> Vec<SheetFacts> {
    let placed = |placed: &Placed| PlacedFacts {
        what: plan.prints.get(placed.print).map(|print| print.name.clone()).unwrap_or_default(),
        x: placed.at.x,
        y: placed.at.y,
        width: placed.size.x,
        height: placed.size.y,
        turned: placed.turned,
    };
    let facts = |(sheet, number): (&PrintedSheet, usize)| SheetFacts {
        sheet: number,
        size: sheet.kind.clone(),
        width: sheet.size().x,
        height: sheet.size().y,
        ppi: sheet.sheet.ppi,
        placed: sheet.placed.iter().map(placed).collect(),
        used: sheet.used(),
    };
    plan.sheets.iter().zip(1..).map(facts).collect()
}

fn neck_facts(neck: &Neck) -> NeckFacts {
    let middle = neck.middle();
    NeckFacts { x: middle.x, up: middle.y, width: neck.width() }
}

fn seat_facts(piece: &Piece) -> SeatFacts {
    SeatFacts { on: piece.seat.on.word().to_owned(), surface: piece.seat.surface.word().to_owned() }
}

fn place_facts(piece: &Piece) -> PlaceFacts {
    let turn = piece.turn.as_degrees();
    match piece.at {
        At::Plan(at) => PlaceFacts { x: Some(at.x.as_mm()), z: Some(at.z.as_mm()), turn, ..PlaceFacts::default() },
        At::Tape(at) => {
            PlaceFacts { along: Some(at.along.as_mm()), up: Some(at.up.as_mm()), turn, ..PlaceFacts::default() }
        }
    }
}

fn thing_facts(place: &Place) -> ThingFacts {
    let thing = ThingFacts::default();
    match place {
        Place::Board => ThingFacts { board: true, ..thing },
        Place::Tier(tier) => ThingFacts { tier: Some(tier.clone()), ..thing },
        Place::Course { tier, course } => {
            ThingFacts { tier: Some(tier.clone()), course: Some(course.clone()), ..thing }
        }
        Place::Seam { tier, course, along } => {
            ThingFacts { tier: Some(tier.clone()), course: Some(course.clone()), along: Some(along.as_mm()), ..thing }
        }
        Place::Piece(piece) => ThingFacts { piece: Some(piece.clone()), ..thing },
        Place::Art(path) => ThingFacts { art: Some(path.clone()), ..thing },
        Place::Other(_) => thing,
    }
}

fn finding_facts(finding: &Finding) -> FindingFacts {
    FindingFacts {
        code: finding.code.word().to_owned(),
        severity: finding.severity.word().to_owned(),
        place: finding.place.to_string(),
        thing: thing_facts(&finding.place),
        message: format!("{}; {}", finding.sentence, finding.mend),
        by: finding.by.map(crate::measure::Length::as_mm),
    }
}
