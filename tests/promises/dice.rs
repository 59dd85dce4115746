//! Random designs that a file can hold, from a seed.

use std::collections::BTreeMap;

use tierproof::art::Colour;
use tierproof::design::Look;
use tierproof::design::model::pieces::{
    Backing, Ball, Bow, Cells, Letters, Over, Picks, Plaque, ReferenceSide, Rod, RodPart, Rope, RopeLine, RopeSection,
    Scatter, SidePins, Sign, Solid, SolidForm, Stick, TailCut, Topper,
};
use tierproof::design::model::{
    At, Board, BoardShape, Course, CourseHeight, CourseKind, Design, Dowels, Finish, Fit, Form, JoinFree, Kitchen,
    Measured, Order, Paper, Paste, Piece, Planning, Proof, SeamPlace, Seat, Sheet, Shift, Size, Slice, Surface, Target,
    Tier, TierShape, Transport, Under, Viewing, Wrap,
};
use tierproof::measure::{Angle, Length, PlanPoint, TapePoint, Unit};

/// A source of chance (xorshift64, Marsaglia 2003).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    fn roll(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    pub fn below(&mut self, count: u32) -> u32 {
        u32::try_from((self.roll() >> 33) % u64::from(count)).expect("small")
    }

    pub fn flip(&mut self) -> bool {
        self.below(2) == 0
    }

    pub fn pick<T: Clone>(&mut self, from: &[T]) -> T {
        from[self.below(u32::try_from(from.len()).expect("short")) as usize].clone()
    }

    pub fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        self.flip().then(|| make(self))
    }

    pub fn share(&mut self) -> f64 {
        f64::from(self.below(1_000_001)) / 1e6
    }

    /// Above zero: sixteenths of an inch, whole millimetres, or anything.
    fn size(&mut self) -> Length {
        match self.below(3) {
            0 => Length::inches(f64::from(self.below(400) + 1) / 16.0),
            1 => Length::mm(f64::from(self.below(500) + 1)),
            _ => Length::mm(0.001 + self.share() * 2900.0),
        }
    }

    fn depth(&mut self) -> Length {
        if self.flip() { Length::ZERO } else { self.size() }
    }

    fn place(&mut self) -> Length {
        let size = self.depth();
        if self.flip() || size == Length::ZERO { size } else { -size }
    }

    fn stretch(&mut self) -> (Length, Length) {
        let from = -self.size();
        (from, from + self.size() + Length::mm(1.0))
    }

    pub fn text(&mut self) -> String {
        self.pick(&[
            "",
            "Seven bells",
            "ünïcode ½ “quoted” \"double\" 'single'",
            "back\\slash # no comment",
            "= [x]",
            "日本",
        ])
        .to_owned()
    }

    fn art(&mut self) -> String {
        self.pick(&["art/waves.png", "a b.svg", "art/ü.jpg"]).to_owned()
    }

    fn finish(&mut self) -> String {
        self.pick(&["white", "gold", "my own", "süß # \"1\""]).to_owned()
    }

    pub fn colour(&mut self) -> Colour {
        let [red, green, blue, ..] = self.roll().to_be_bytes();
        Colour::new(red, green, blue)
    }

    fn turn(&mut self) -> Angle {
        Angle::degrees(self.pick(&[0.0, 15.0, -90.0, 0.1, 12.345_678_9]))
    }

    fn size_for(&mut self, pair: bool) -> Size {
        Size { width: self.size(), depth: pair.then(|| self.size()) }
    }

    fn height(&mut self) -> CourseHeight {
        if self.flip() {
            return CourseHeight::Fixed(self.size());
        }
        CourseHeight::Fill { weight: self.pick(&[1.0, 2.0, 0.3]), least: self.depth() }
    }

    fn seam(&mut self) -> SeamPlace {
        let along = self.place();
        self.pick(&[SeamPlace::Back, SeamPlace::Front, SeamPlace::Along(along)])
    }

    fn course(&mut self, name: String) -> Course {
        let (diameter, finish, seam) = (self.size(), self.finish(), self.seam());
        let stuck_with = self.maybe(|_| "piping gel".to_owned());
        let kind = match self.below(5) {
            0 => CourseKind::Rope { diameter, finish, seam, stuck_with },
            1 => CourseKind::Pearls { diameter, finish, seam, stuck_with },
            2 => CourseKind::Band { height: self.height(), thickness: diameter, finish, seam, stuck_with },
            3 => CourseKind::Bare { height: self.height() },
            _ => CourseKind::Wrap(Box::new(self.wrap())),
        };
        Course { name, kind, locked: self.flip() }
    }

    fn shift(&mut self) -> Shift {
        let by = self.place();
        self.pick(&[Shift::Best, Shift::By(by)])
    }

    fn wrap(&mut self) -> Wrap {
        let repeat = Fit::Repeat { width: self.size(), shift: self.shift() };
        Wrap {
            height: self.height(),
            art: self.art(),
            fit: self.pick(&[repeat, Fit::Cover, Fit::Contain]),
            focus: [self.share(), self.share()],
            focus_along: self.place(),
            sheet: self.maybe(|dice| dice.pick(&["letter", "a4", "my sheet"]).to_owned()),
            turn: self.flip(),
            overlap: self.depth(),
            thickness: self.depth(),
            under: self.maybe(|dice| Under { paste: dice.size(), finish: dice.finish(), seam: dice.maybe(Self::seam) }),
            stretch: self.maybe(Self::stretch),
            pins: (0..self.below(4)).map(|_| self.place()).collect(),
            join_free: self.maybe(|dice| JoinFree { centre: dice.place(), width: dice.size() }),
            forbid: (0..self.below(3)).map(|_| self.stretch()).collect(),
            least_strip: self.maybe(Self::size),
            stuck_with: self.maybe(|_| "water".to_owned()),
        }
    }

    fn tier(&mut self, name: String) -> Tier {
        let shapes = [TierShape::Round, TierShape::Square, TierShape::Rectangle, TierShape::Hexagon];
        let more = [TierShape::Octagon, TierShape::Oval, TierShape::Heart, TierShape::Petal];
        let shape = self.pick(&[shapes, more].concat());
        Tier {
            name,
            shape,
            size: self.size_for(matches!(shape, TierShape::Rectangle | TierShape::Oval)),
            corner: self.depth(),
            petals: 3 + self.below(8),
            height: self.size(),
            layers: 1 + self.below(6),
            icing: self.depth(),
            paste: self.depth(),
            finish: self.finish(),
            edge: self.depth(),
            at: PlanPoint { x: self.place(), z: self.place() },
            turn: self.turn(),
            gap: self.depth(),
            measured: Measured {
                around: self.maybe(Self::size),
                across: self.maybe(Self::size),
                height: self.maybe(Self::size),
            },
            dowels: Dowels {
                count: self.maybe(|dice| dice.below(9)),
                diameter: self.maybe(Self::size),
                inset: self.maybe(Self::depth),
            },
            courses: (0..self.below(4)).map(|number| self.course(format!("course {number}"))).collect(),
            locked: self.flip(),
        }
    }

    fn form(&mut self, surface: Surface) -> Form {
        let (size, finish, thickness) = (self.size(), self.finish(), self.size());
        match self.below(9) {
            0 => Form::Topper(self.topper()),
            1 => Form::Plaque(self.plaque()),
            2 => Form::Ball(Ball {
                size,
                sunk: self.depth(),
                pin: self.flip(),
                clear_of_seams: self.maybe(Self::depth),
                finish,
            }),
            3 => Form::Scatter(self.scatter(surface)),
            4 => {
                let length = self.size();
                let straight = RopeLine::Straight { length, sag: self.depth() };
                let edge = RopeLine::Edge(self.place());
                let line = self.pick(&[straight, RopeLine::Ring(length), edge]);
                let band = RopeSection::Band(self.size());
                let section = self.pick(&[RopeSection::Round, RopeSection::Pearls, band]);
                Form::Rope(Rope { diameter: size, line, section, finish })
            }
            5 => Form::Bow(Bow {
                ribbon: size,
                loops: 1 + self.below(6),
                loop_length: self.size(),
                tails: self.below(4),
                tail_length: self.depth(),
                cut: self.pick(&[TailCut::Straight, TailCut::Slant, TailCut::Notch]),
                mirror: self.flip(),
                thickness,
                finish,
            }),
            6 => Form::Sign(self.sign()),
            7 => Form::Rod(self.rod()),
            _ => {
                let form = self.pick(&[SolidForm::Candle, SolidForm::Figure, SolidForm::Flowers]);
                Form::Solid(Solid { form, across: size, height: self.size(), finish })
            }
        }
    }

    fn topper(&mut self) -> Topper {
        let side = self.size();
        Topper {
            art: self.art(),
            size: self.pick(&[ReferenceSide::Width(side), ReferenceSide::Height(side)]),
            thickness: self.size(),
            finish: self.finish(),
            print: self.flip(),
            backing: self.maybe(|dice| Backing { border: dice.depth(), thickness: dice.size(), finish: dice.finish() }),
            picks: self.maybe(|dice| Picks {
                count: 1 + dice.below(3),
                diameter: dice.size(),
                into_piece: dice.depth(),
                into_cake: dice.depth(),
                side_pins: dice.maybe(|dice| SidePins {
                    count: 1 + dice.below(3),
                    diameter: dice.size(),
                    into_piece: dice.depth(),
                    into_cake: dice.depth(),
                }),
            }),
        }
    }

    fn plaque(&mut self) -> Plaque {
        let (width, height) = (self.size(), self.size());
        let size = self.pick(&[
            ReferenceSide::Width(width),
            ReferenceSide::Height(height),
            ReferenceSide::Both(width, height),
        ]);
        let art = if matches!(size, ReferenceSide::Both(..)) { self.maybe(Self::art) } else { Some(self.art()) };
        Plaque {
            size,
            art,
            corner: self.depth(),
            cells: self.maybe(|dice| Cells {
                rows: 1 + dice.below(5),
                columns: 1 + dice.below(5),
                gap: dice.depth(),
                inset: dice.depth(),
                finishes: (0..=dice.below(3)).map(|_| dice.finish()).collect(),
            }),
            stiff: self.flip(),
            thickness: self.size(),
            finish: self.finish(),
        }
    }

    fn scatter(&mut self, surface: Surface) -> Scatter {
        let (first, second) = (self.stretch(), self.stretch());
        Scatter {
            over: match surface {
                Surface::Side => Over::Tape { along: first, up: second },
                Surface::Top | Surface::Board => Over::Plan { x: first, z: second },
            },
            sizes: (0..=self.below(3)).map(|_| (self.size(), 1 + self.below(20))).collect(),
            seed: self.roll() >> 11,
            clear_of_seams: self.maybe(Self::depth),
            finish: self.finish(),
        }
    }

    fn sign(&mut self) -> Sign {
        Sign {
            text: self.text(),
            letters: Letters { height: self.size(), colour: self.colour(), font: self.maybe(Self::art) },
            art: Some(self.art()),
            size: [self.size(), self.size()],
            thickness: self.size(),
            border: self.depth(),
            finish: self.finish(),
            border_finish: self.maybe(Self::finish),
            wave: self.depth(),
            curl: self.depth(),
            stiff: self.flip(),
        }
    }

    fn rod(&mut self) -> Rod {
        Rod {
            leans_on: self.maybe(|_| "tier 0".to_owned()),
            parts: (0..=self.below(3))
                .map(|_| RodPart { length: self.size(), from: self.size(), to: self.size(), finish: self.finish() })
                .collect(),
            stick: self.maybe(|dice| Stick { diameter: dice.size(), into_board: dice.depth() }),
        }
    }

    fn piece(&mut self, number: u32) -> Piece {
        let on = match self.below(3) {
            0 => Target::Board,
            1 if number > 0 => Target::Piece(format!("piece {}", self.below(number))),
            _ => Target::Tier("tier 0".to_owned()),
        };
        let surface = if on == Target::Board { Surface::Board } else { self.pick(&[Surface::Top, Surface::Side]) };
        let (first, second) = (self.place(), self.place());
        let form = self.form(surface);
        let tilts = !matches!(form, Form::Ball(_) | Form::Scatter(_));
        Piece {
            name: format!("piece {number}"),
            seat: Seat { on, surface },
            at: match surface {
                Surface::Side => At::Tape(TapePoint { along: first, up: second }),
                Surface::Top | Surface::Board => At::Plan(PlanPoint { x: first, z: second }),
            },
            turn: self.turn(),
            tilt: if tilts { self.turn() } else { Angle::ZERO },
            form,
            dry_hours: self.maybe(|dice| dice.pick(&[0.0, 48.0, 1.5])),
            stuck_with: self.maybe(|_| "edible glue".to_owned()),
            hidden: false,
            locked: self.flip(),
        }
    }

    fn planning(&mut self) -> Planning {
        Planning {
            strip: self.maybe(Self::share),
            sliver: self.maybe(Self::share),
            waste: self.maybe(|dice| 100.0 * dice.share()),
            corner: self.maybe(Self::share),
            comfortable: self.maybe(Self::size),
            least_strip: self.maybe(Self::size),
        }
    }

    fn order(&mut self) -> Order {
        let own = Slice::Own(self.size(), self.size());
        Order {
            customer: self.text(),
            event: self.text(),
            handover: self.maybe(|dice| dice.pick(&["2026-12-12T10:00", "2027-01-31T23:59:59"]).parse().expect("time")),
            planned_on: self.maybe(|_| "2026-11-02".parse().expect("a day")),
            portions: self.maybe(|dice| 1 + dice.below(300)),
            slice: self.pick(&[Slice::Party, Slice::Wedding, own]),
            allergens: (0..self.below(3)).map(|_| self.text()).collect(),
            notes: self
                .pick(&["", "one line", "two\nlines\twith a tab", "\nnewline first and '''\"\"\" last\n"])
                .to_owned(),
        }
    }

    fn kitchen(&mut self) -> Kitchen {
        let markup = self.maybe(|_| 25.0);
        Kitchen {
            working_hours: self.maybe(|_| ("08:30".parse().expect("time"), "17:00".parse().expect("time"))),
            hour_rate: self.maybe(|dice| dice.pick(&[0.0, 27.5])),
            stuck_with: self.maybe(|_| "water".to_owned()),
            hours: self.maybe(|dice| dice.pick(&[6.0, 27.5])),
            materials: self.maybe(|dice| dice.pick(&[0.0, 38.2])),
            paste_price: self.maybe(|_| 6.4),
            sheet_price: self.maybe(|_| 2.0),
            overhead: self.maybe(|_| 10.0),
            markup,
            margin: if markup.is_none() { self.maybe(|_| 30.0) } else { None },
            currency: self.maybe(|_| "EUR".to_owned()),
            sheet: self.maybe(|dice| dice.pick(&["letter", "my sheet"]).to_owned()),
        }
    }

    pub fn design(&mut self) -> Design {
        let shape = self.pick(&[BoardShape::Round, BoardShape::Square, BoardShape::Rectangle]);
        let looks = [Look::Paste, Look::Satin, Look::Pearl, Look::Metal, Look::Glitter, Look::Print];
        let finish = |dice: &mut Self| Finish {
            colour: dice.colour(),
            look: dice.pick(&looks),
            paste: dice.maybe(|dice| dice.pick(&["yellow", "my paste"]).to_owned()),
        };
        let sheet = Sheet {
            ppi: self.pick(&[300, 150, 600]),
            gap: self.size(),
            bleed: self.pick(&[Length::ZERO, Length::mm(2.0)]),
            turn: self.pick(&[true, false]),
            ..Sheet::plain([Length::mm(300.0); 2], [Length::mm(290.0), Length::inches(11.0)])
        };
        let paste = Paste { colour: self.colour(), density: 1.0 + self.share(), waste: self.share() / 2.0 };
        let tiers = 1 + self.below(3);
        let pieces = self.below(6);
        Design {
            title: self.text(),
            unit: self.pick(&[Unit::Inch, Unit::Millimetre, Unit::Centimetre]),
            order: self.order(),
            board: Board {
                shape,
                size: self.size_for(shape == BoardShape::Rectangle),
                thickness: self.size(),
                finish: self.finish(),
            },
            tiers: (0..tiers).map(|number| self.tier(format!("tier {number}"))).collect(),
            pieces: (0..pieces).map(|number| self.piece(number)).collect(),
            finishes: ["my own", "süß # \"1\""].into_iter().map(|name| (name.to_owned(), finish(self))).collect(),
            pastes: BTreeMap::from([("my paste".to_owned(), paste)]),
            sheets: BTreeMap::from([("my sheet".to_owned(), sheet)]),
            viewing: Viewing {
                front: Angle::degrees(self.pick(&[0.0, -40.5, 180.0])),
                spread: Angle::degrees(self.pick(&[70.0, 90.0])),
                down: self.pick(&[[10.0, 35.0], [0.0, 0.0]]).map(Angle::degrees),
            },
            transport: Transport {
                inside: self.maybe(|dice| [dice.size(), dice.size()]),
                height: self.maybe(Self::size),
                shelf: self.maybe(Self::size),
            },
            kitchen: self.kitchen(),
            planning: self.planning(),
            proof: Proof {
                paper: self.maybe(|dice| dice.pick(&[Paper::Letter, Paper::A4])),
                price: self.maybe(|dice| dice.pick(&[true, false])),
            },
        }
    }

    /// The same design after an evening at it: something of everything is changed, moved, added or gone.
    pub fn edited(&mut self, design: &Design) -> Design {
        let other = self.design();
        let mut edited = design.clone();
        match self.below(10) {
            0 => edited.title = other.title,
            1 => edited.unit = other.unit,
            2 => edited.order = other.order,
            3 => edited.board = other.board,
            4 => edited.kitchen = other.kitchen,
            5 => edited.finishes = other.finishes,
            6 => edited.pieces.reverse(),
            7 => edited.tiers.extend((0..self.below(3)).map(|number| self.tier(format!("new tier {number}")))),
            8 => edited.tiers[0].courses.reverse(),
            _ => {
                let number = u32::try_from(edited.pieces.len()).expect("few");
                edited.pieces.push(self.piece(number));
            }
        }
        if let Some(piece) = edited.pieces.last_mut() {
            piece.turn = Angle::degrees(33.0);
            piece.name = "renamed".to_owned();
        }
        let tier = &mut edited.tiers[0];
        tier.height = self.size();
        if let Some(course) = tier.courses.first_mut() {
            *course = self.course(course.name.clone());
        }
        keep_seats(&mut edited);
        edited
    }
}

/// Pieces whose seat went away sit on the first tier instead; none sits on one that comes after it.
fn keep_seats(design: &mut Design) {
    let names: Vec<_> = design.pieces.iter().map(|piece| piece.name.clone()).collect();
    let chosen = Target::Tier(design.tiers[0].name.clone());
    for (piece, number) in design.pieces.iter_mut().zip(0..) {
        let earlier = &names[..number];
        if matches!(&piece.seat.on, Target::Piece(name) if !earlier.contains(name)) {
            piece.seat.on = chosen.clone();
        }
    }
}
