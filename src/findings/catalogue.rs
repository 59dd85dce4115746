//! The list of codes: the one source of `docs/findings.md` and of every finding's severity.

use super::Severity;

/// A stable name for one kind of finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// `courses-overrun`
    CoursesOverrun,
    /// `courses-short`
    CoursesShort,
    /// `fill-too-thin`
    FillTooThin,
    /// `print-too-high`
    PrintTooHigh,
    /// `join-in-free-stretch`
    JoinInFreeStretch,
    /// `no-seam-plan`
    NoSeamPlan,
    /// `pin-misplaced`
    PinMisplaced,
    /// `seams-in-line`
    SeamsInLine,
    /// `seam-in-sight`
    SeamInSight,
    /// `repeat-stretched`
    RepeatStretched,
    /// `picture-ends-differ`
    PictureEndsDiffer,
    /// `print-coarse`
    PrintCoarse,
    /// `print-rough`
    PrintRough,
    /// `print-larger-than-sheet`
    PrintLargerThanSheet,
    /// `too-many-sheets`
    TooManySheets,
    /// `pan-is-not-cake`
    PanIsNotCake,
    /// `measured-differs`
    MeasuredDiffers,
    /// `tier-overhangs`
    TierOverhangs,
    /// `board-too-small`
    BoardTooSmall,
    /// `board-narrow`
    BoardNarrow,
    /// `box-too-small`
    BoxTooSmall,
    /// `box-tight`
    BoxTight,
    /// `shelf-too-low`
    ShelfTooLow,
    /// `tier-not-supported`
    TierNotSupported,
    /// `dowel-meets-pick`
    DowelMeetsPick,
    /// `heavy-load`
    HeavyLoad,
    /// `heavy-cake`
    HeavyCake,
    /// `pieces-overlap`
    PiecesOverlap,
    /// `piece-in-cake`
    PieceInCake,
    /// `piece-in-board`
    PieceInBoard,
    /// `piece-over-edge`
    PieceOverEdge,
    /// `piece-crosses-corner`
    PieceCrossesCorner,
    /// `ball-without-pin`
    BallWithoutPin,
    /// `ball-on-seam`
    BallOnSeam,
    /// `piece-sunk`
    PieceSunk,
    /// `topper-without-pick`
    TopperWithoutPick,
    /// `topper-may-twist`
    TopperMayTwist,
    /// `rod-without-stick`
    RodWithoutStick,
    /// `pick-too-short`
    PickTooShort,
    /// `pick-too-deep`
    PickTooDeep,
    /// `pick-meets-pick`
    PickMeetsPick,
    /// `pick-meets-piece`
    PickMeetsPiece,
    /// `pick-near-side`
    PickNearSide,
    /// `paste-thin-round-pick`
    PasteThinRoundPick,
    /// `pick-has-no-room`
    PickHasNoRoom,
    /// `pick-off-balance`
    PickOffBalance,
    /// `neck-too-thin`
    NeckTooThin,
    /// `piece-in-parts`
    PieceInParts,
    /// `art-text-set-anew`
    ArtTextSetAnew,
    /// `art-part-not-cut`
    ArtPartNotCut,
    /// `art-fills-page`
    ArtFillsPage,
    /// `text-too-long`
    TextTooLong,
    /// `cells-left-out`
    CellsLeftOut,
    /// `sign-is-blank`
    SignIsBlank,
    /// `rod-does-not-reach`
    RodDoesNotReach,
    /// `scatter-crowded`
    ScatterCrowded,
    /// `no-edge-to-follow`
    NoEdgeToFollow,
    /// `bends-too-tightly`
    BendsTooTightly,
    /// `portions-short`
    PortionsShort,
    /// `characters-missing`
    CharactersMissing,
    /// `moved-on`
    MovedOn,
    /// `handover-past`
    HandoverPast,
    /// `piece-not-dry`
    PieceNotDry,
    /// `plan-too-late`
    PlanTooLate,
    /// `cake-waits-long`
    CakeWaitsLong,
}

/// One row of the catalogue: code, its word, its severity, what it means.
pub type Row = (Code, &'static str, Severity, &'static str);

/// Every code there is.
pub const CODES: &[Row] = &[
    (
        Code::CoursesOverrun,
        "courses-overrun",
        Severity::Stop,
        "The courses of a tier are together higher than the tier.",
    ),
    (
        Code::CoursesShort,
        "courses-short",
        Severity::Note,
        "The courses of a tier end below its top and none fills the rest.",
    ),
    (Code::FillTooThin, "fill-too-thin", Severity::Stop, "A filling course would be thinner than its least height."),
    (Code::PrintTooHigh, "print-too-high", Severity::Stop, "A wrap is higher than its sheet prints, either way round."),
    (
        Code::JoinInFreeStretch,
        "join-in-free-stretch",
        Severity::Warn,
        "A pinned seam falls inside the stretch that should have none.",
    ),
    (
        Code::NoSeamPlan,
        "no-seam-plan",
        Severity::Stop,
        "No cutting into strips keeps every limit: sheet, least strip, pins, stretches without seams. The nearest one is shown.",
    ),
    (
        Code::PinMisplaced,
        "pin-misplaced",
        Severity::Warn,
        "A pinned seam lies outside what the wrap covers, or where seams are forbidden.",
    ),
    (
        Code::SeamsInLine,
        "seams-in-line",
        Severity::Warn,
        "The paste beneath a print is joined so near to a seam of the print that a gap would show through both.",
    ),
    (
        Code::SeamInSight,
        "seam-in-sight",
        Severity::Warn,
        "A seam, or where the ends of a band or rope meet, is seen from most places where people will stand (`[viewing]`).",
    ),
    (
        Code::RepeatStretched,
        "repeat-stretched",
        Severity::Warn,
        "Closing a repeat on itself changes its size by more than 5 %.",
    ),
    (
        Code::PictureEndsDiffer,
        "picture-ends-differ",
        Severity::Note,
        "The two ends of a picture that runs all round meet in different colours, which is plainly seen.",
    ),
    (
        Code::PrintCoarse,
        "print-coarse",
        Severity::Warn,
        "A print has under 150 pixels to the inch at its printed size.",
    ),
    (
        Code::PrintRough,
        "print-rough",
        Severity::Warn,
        "A print has under 100 pixels to the inch: single pixels can be seen at arm's length.",
    ),
    (
        Code::PrintLargerThanSheet,
        "print-larger-than-sheet",
        Severity::Stop,
        "Something printed is larger than its sheet prints, either way round; the rest is laid out without it.",
    ),
    (
        Code::TooManySheets,
        "too-many-sheets",
        Severity::Stop,
        "More prints or sheets than are laid out for one cake; the rest is left out.",
    ),
    (
        Code::PanIsNotCake,
        "pan-is-not-cake",
        Severity::Note,
        "A strip cut from the pan's size would come out short, and by how much.",
    ),
    (
        Code::MeasuredDiffers,
        "measured-differs",
        Severity::Note,
        "The tape read another size than the pan and its covering give; the tape is believed.",
    ),
    (Code::TierOverhangs, "tier-overhangs", Severity::Warn, "A tier stands out beyond what carries it."),
    (Code::BoardTooSmall, "board-too-small", Severity::Warn, "The board is smaller than what stands on it."),
    (Code::BoardNarrow, "board-narrow", Severity::Note, "Less board is seen round the cake than is usual."),
    (Code::BoxTooSmall, "box-too-small", Severity::Warn, "The cake is larger than the box it is to go in."),
    (Code::BoxTight, "box-tight", Severity::Note, "The cake goes into its box with less room round it than is usual."),
    (
        Code::ShelfTooLow,
        "shelf-too-low",
        Severity::Warn,
        "The cake is higher than the shelf it is to stand on has room for.",
    ),
    (
        Code::TierNotSupported,
        "tier-not-supported",
        Severity::Warn,
        "A tier that is carried has too few dowels under it, or dowels that find no cake to stand in.",
    ),
    (Code::DowelMeetsPick, "dowel-meets-pick", Severity::Note, "A dowel would run into a stick."),
    (Code::HeavyLoad, "heavy-load", Severity::Note, "Each dowel under a tier carries more than is usual."),
    (Code::HeavyCake, "heavy-cake", Severity::Note, "The cake is heavier than one person should carry alone."),
    (Code::PiecesOverlap, "pieces-overlap", Severity::Warn, "Two pieces take up the same space."),
    (
        Code::PieceInCake,
        "piece-in-cake",
        Severity::Warn,
        "A piece takes up the same space as a tier that it doesn't sit on.",
    ),
    (Code::PieceInBoard, "piece-in-board", Severity::Warn, "A piece that doesn't sit on the board runs into it."),
    (Code::PieceOverEdge, "piece-over-edge", Severity::Warn, "A piece stands out beyond the edge of its seat."),
    (
        Code::PieceCrossesCorner,
        "piece-crosses-corner",
        Severity::Warn,
        "A piece on a side lies across a corner: soft paste creases there, stiff paste stands off.",
    ),
    (Code::BallWithoutPin, "ball-without-pin", Severity::Warn, "A ball on a side has nothing that holds it."),
    (
        Code::BallOnSeam,
        "ball-on-seam",
        Severity::Warn,
        "A ball that should keep clear of seams (`clear_of_seams`) lies on one, or too near to it.",
    ),
    (
        Code::PieceSunk,
        "piece-sunk",
        Severity::Warn,
        "A piece sinks deeper into what it sits on than can be seen or made.",
    ),
    (Code::TopperWithoutPick, "topper-without-pick", Severity::Warn, "A standing topper has nothing that holds it."),
    (
        Code::TopperMayTwist,
        "topper-may-twist",
        Severity::Note,
        "A standing topper has one stick and nothing against turning about it.",
    ),
    (Code::RodWithoutStick, "rod-without-stick", Severity::Warn, "A rod has no stick that holds its foot."),
    (
        Code::PickTooShort,
        "pick-too-short",
        Severity::Warn,
        "A stick is too short, in the cake or in the piece, for what it holds.",
    ),
    (Code::PickTooDeep, "pick-too-deep", Severity::Warn, "A stick or pin goes deeper than what it stands in."),
    (
        Code::PickMeetsPick,
        "pick-meets-pick",
        Severity::Warn,
        "Two sticks or pins of different pieces run into each other.",
    ),
    (
        Code::PickMeetsPiece,
        "pick-meets-piece",
        Severity::Warn,
        "A stick or pin runs into a piece that it doesn't hold and doesn't go through.",
    ),
    (Code::PickNearSide, "pick-near-side", Severity::Warn, "A stick enters the cake too near its side."),
    (
        Code::PasteThinRoundPick,
        "paste-thin-round-pick",
        Severity::Warn,
        "Too little paste is left round a stick that goes into a piece.",
    ),
    (
        Code::PickHasNoRoom,
        "pick-has-no-room",
        Severity::Warn,
        "A pick would come out of its piece before it is as deep in it as it should be.",
    ),
    (
        Code::PickOffBalance,
        "pick-off-balance",
        Severity::Note,
        "The picks of a piece stand beside the middle of its weight, so that it leans.",
    ),
    (
        Code::NeckTooThin,
        "neck-too-thin",
        Severity::Warn,
        "A piece has a place so narrow for the thickness of its paste that it may break there.",
    ),
    (Code::PieceInParts, "piece-in-parts", Severity::Warn, "A cut-out falls into parts which nothing joins."),
    (
        Code::ArtTextSetAnew,
        "art-text-set-anew",
        Severity::Warn,
        "The text of a drawing can't be set as it was drawn: its typeface or a sign is not here.",
    ),
    (
        Code::ArtPartNotCut,
        "art-part-not-cut",
        Severity::Note,
        "A drawing has something in it that has no edge to cut along, or that is not drawn.",
    ),
    (
        Code::ArtFillsPage,
        "art-fills-page",
        Severity::Note,
        "The outline of a topper's art is its whole page, as when a background was left in it.",
    ),
    (
        Code::CellsLeftOut,
        "cells-left-out",
        Severity::Warn,
        "Cells of a plaque lie over its edge, or have no room, and are left out.",
    ),
    (Code::SignIsBlank, "sign-is-blank", Severity::Note, "A sign has neither lettering nor a picture."),
    (Code::TextTooLong, "text-too-long", Severity::Warn, "The lettering is longer or higher than its sign."),
    (
        Code::RodDoesNotReach,
        "rod-does-not-reach",
        Severity::Warn,
        "A leaning rod is too short for the edge it should rest on.",
    ),
    (Code::ScatterCrowded, "scatter-crowded", Severity::Warn, "Not all balls of a scatter find a free place."),
    (Code::NoEdgeToFollow, "no-edge-to-follow", Severity::Stop, "A rope has no edge to follow where it lies."),
    (
        Code::BendsTooTightly,
        "bends-too-tightly",
        Severity::Warn,
        "Paste should bend more tightly than paste so thick or wide can; it is drawn and measured bent as far as it goes.",
    ),
    (Code::PortionsShort, "portions-short", Severity::Warn, "The cake cuts into fewer portions than were ordered."),
    (
        Code::CharactersMissing,
        "characters-missing",
        Severity::Warn,
        "A text has characters that no font here can print; on paper they are empty boxes.",
    ),
    (Code::MovedOn, "moved-on", Severity::Warn, "The design has changed since the customer approved it."),
    (
        Code::HandoverPast,
        "handover-past",
        Severity::Stop,
        "The hand-over is over by the day on which the work would begin.",
    ),
    (
        Code::PieceNotDry,
        "piece-not-dry",
        Severity::Stop,
        "To be dry in time, a piece would have to be made before the work can begin.",
    ),
    (Code::PlanTooLate, "plan-too-late", Severity::Stop, "The work would have to begin before it can."),
    (
        Code::CakeWaitsLong,
        "cake-waits-long",
        Severity::Warn,
        "From baking to the hand-over the cake waits longer than most keep.",
    ),
];

impl Code {
    /// The stable word: `courses-overrun`.
    #[must_use]
    pub fn word(self) -> &'static str {
        self.row().1
    }

    /// How grave a finding of this code is.
    #[must_use]
    pub fn severity(self) -> Severity {
        self.row().2
    }

    fn row(self) -> Row {
        const UNLISTED: Row = (Code::CoursesShort, "unlisted", Severity::Warn, "");
        CODES.iter().copied().find(|row| row.0 == self).unwrap_or(UNLISTED)
    }
}

/// The catalogue as a page of Markdown: the text of `docs/findings.md`.
#[must_use]
pub fn page() -> String {
    let head = "# Findings\n\nWhat `tierproof check` may say of a design that can be read. `stop`: it cannot be made like this, and the program \
                leaves with 1. `warn`: likely to go wrong. `note`: worth knowing. Each names where, by how much, and what would fix \
                it.\n\n| code | severity | what it means |\n| --- | --- | --- |\n";
    let rows = CODES.iter().map(|(_, word, severity, means)| format!("| `{word}` | {} | {means} |\n", severity.word()));
    head.to_owned() + &rows.collect::<String>()
}
