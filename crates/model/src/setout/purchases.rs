//! What is bought for strings and heliostats: panels from sheets, tubes and rods from bars, parts, and spares.

use scenario::Stock;
use structure::{
    Chs, Cut, LineKind, Mover, Pieces, Sheet, StructureError, TubeUse, Tubes, cut, cut_list,
};

use super::Built;
use crate::bill::DRIVES_PER_UNIT;
use crate::case::Case;
use crate::inputs;

/// Strands of both loops along a string.
const STRANDS: usize = 4;

/// Something that is bought.
#[derive(Clone, Debug, PartialEq)]
pub enum Goods {
    /// Square mirror panels.
    Panel {
        /// Side.
        side_m: f64,
        /// Thickness of the glass.
        thickness_m: f64,
    },
    /// Tubes of a section.
    Tube {
        /// The section.
        section: Chs,
        /// What they are cut for.
        uses: Vec<TubeUse>,
    },
    /// Strands of the lines.
    Strand {
        /// Rope or rod.
        kind: LineKind,
        /// Diameter.
        diameter_m: f64,
    },
    /// Mounts with their joints.
    Mount,
    /// Sets of levers with bell-crank, one for each mirror.
    Levers,
    /// Drives that must hold a torque.
    Drive {
        /// The torque.
        torque_n_m: f64,
    },
    /// Controllers, one for each string.
    Controller,
    /// Concrete around posts and pedestals [m³].
    Concrete,
    /// Bracing, brackets and bolts of the frames of heliostats, by mass [kg].
    Brackets,
    /// Reinforcing bars of piers, by mass [kg].
    ReinforcingBars,
}

/// What is cut from stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FromStock {
    /// Panels from sheets.
    Sheets {
        /// The sheet.
        sheet: Sheet,
        /// Panels that one gives.
        panels: usize,
        /// How many sheets.
        count: usize,
        /// Share of their glass that ends up in panels.
        share: f64,
    },
    /// Pieces from bars.
    Bars(Cut),
}

/// One line of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// What.
    pub goods: Goods,
    /// How much stands in the field: pieces, metres of tube and strand, cubic metres of concrete, kilograms of
    /// what goes by mass.
    pub needed: f64,
    /// How much more is bought as spares.
    pub spares: f64,
    /// How it is cut from stock, if it is.
    pub stock: Option<FromStock>,
    /// Mass of what is needed and spare, where it is known.
    pub mass_kg: Option<f64>,
}

/// Everything that is bought for the strings of all makes.
pub fn purchases(case: &Case, built: &[Built]) -> Result<Vec<Purchase>, StructureError> {
    let shop = Shop::of(case);
    let mut bought = shop.panels(built);
    bought.extend(shop.tubes(built)?);
    bought.extend(shop.strands(built));
    bought.extend(shop.parts(built));
    Ok(bought)
}

/// Strands of one size.
struct Strands {
    kind: LineKind,
    diameter_m: f64,
    kg_m: f64,
    pieces: Vec<Pieces>,
}

/// Where things are bought.
pub struct Shop<'a> {
    stock: &'a Stock,
    sheet: Sheet,
}

impl<'a> Shop<'a> {
    /// With the scenario's stock and spares.
    pub const fn of(case: &'a Case) -> Self {
        Self {
            stock: &case.scenario.stock,
            sheet: inputs::sheet(case),
        }
    }

    /// Panels of one side and thickness, cut from sheets.
    pub fn panel(&self, [side_m, thickness_m]: [f64; 2], needed: f64, kg: f64) -> Purchase {
        let spares = (self.stock.spare_panels * needed).ceil();
        Purchase {
            goods: Goods::Panel {
                side_m,
                thickness_m,
            },
            needed,
            spares,
            stock: Some(self.sheets(side_m, needed + spares)),
            mass_kg: Some(kg * (needed + spares)),
        }
    }

    /// Concrete, if there is any.
    pub fn concrete(needed_m3: f64) -> Option<Purchase> {
        (needed_m3 > 0.0).then_some(Purchase {
            goods: Goods::Concrete,
            needed: needed_m3,
            spares: 0.0,
            stock: None,
            mass_kg: None,
        })
    }

    /// What is bought by its mass as it is, if there is any.
    pub fn by_mass(goods: Goods, needed_kg: f64) -> Option<Purchase> {
        (needed_kg > 0.0).then_some(Purchase {
            goods,
            needed: needed_kg,
            spares: 0.0,
            stock: None,
            mass_kg: Some(needed_kg),
        })
    }

    fn panels(&self, built: &[Built]) -> Vec<Purchase> {
        let mut sizes: Vec<([f64; 2], f64, f64)> = Vec::new();
        for Built { make, inputs } in built {
            let size = [inputs.panel.side_m, inputs.panel.thickness_m];
            match sizes.iter_mut().find(|(known, ..)| *known == size) {
                Some((_, count, _)) => *count += make.mirrors(),
                None => sizes.push((size, make.mirrors(), inputs.panel.kg())),
            }
        }
        let each = sizes.into_iter();
        each.map(|(size, needed, panel_kg)| self.panel(size, needed, panel_kg))
            .collect()
    }

    fn sheets(&self, side_m: f64, wanted: f64) -> FromStock {
        let panels = self.sheet.panels(side_m);
        let count = (wanted / panels as f64).ceil();
        let sheet_m2 = self.sheet.length_m * self.sheet.width_m;
        FromStock::Sheets {
            sheet: self.sheet,
            panels,
            count: count as usize,
            share: wanted * side_m * side_m / (count * sheet_m2),
        }
    }

    /// Tubes of the strings of all makes.
    fn tubes(&self, built: &[Built]) -> Result<Vec<Purchase>, StructureError> {
        let mut all: Vec<Tubes> = Vec::new();
        for Built { make, inputs } in built {
            let count = make.strings.count as usize;
            all.extend(cut_list(inputs)?.into_iter().map(|one| one.times(count)));
        }
        Ok(self.sections(all))
    }

    /// Tubes, section by section from light to heavy.
    pub fn sections(&self, mut all: Vec<Tubes>) -> Vec<Purchase> {
        all.sort_by(|one, other| one.section.kg_m().total_cmp(&other.section.kg_m()));
        let sections = all.chunk_by(|one, other| one.section == other.section);
        sections.map(|tubes| self.section(tubes)).collect()
    }

    fn section(&self, tubes: &[Tubes]) -> Purchase {
        let section = tubes[0].section;
        let mut uses: Vec<TubeUse> = tubes.iter().map(|tubes| tubes.used_for).collect();
        uses.sort_unstable();
        uses.dedup();
        let pieces: Vec<Pieces> = tubes.iter().map(|tubes| tubes.pieces).collect();
        let cut = self.cut(&pieces);
        Purchase {
            goods: Goods::Tube { section, uses },
            needed: cut.pieces_m,
            spares: 0.0,
            stock: Some(FromStock::Bars(cut)),
            mass_kg: Some(cut.pieces_m * section.kg_m()),
        }
    }

    /// From the bars of which less is left over.
    fn cut(&self, pieces: &[Pieces]) -> Cut {
        let [short, long] = [self.stock.bar_m, self.stock.long_bar_m]
            .map(|bar_m| cut(pieces, bar_m, self.stock.saw_cut_m));
        if long.bought_m() < short.bought_m() {
            long
        } else {
            short
        }
    }

    /// Strands of all makes, size by size: rods are joined from bars, rope comes by the metre.
    fn strands(&self, built: &[Built]) -> Vec<Purchase> {
        let mut sizes: Vec<Strands> = Vec::new();
        for Built { make, inputs } in built {
            let Mover::Loops(line) = &make.parts.sizes.mover else {
                continue;
            };
            let pieces = Pieces {
                length_m: inputs.mirrors as f64 * inputs.pitch_m,
                count: STRANDS * make.strings.count as usize,
            };
            let alike =
                |size: &&mut Strands| size.kind == line.kind && size.diameter_m == line.diameter_m;
            match sizes.iter_mut().find(alike) {
                Some(size) => size.pieces.push(pieces),
                None => sizes.push(Strands {
                    kind: line.kind,
                    diameter_m: line.diameter_m,
                    kg_m: line.strand_kg_m,
                    pieces: vec![pieces],
                }),
            }
        }
        sizes.iter().map(|size| self.strands_of(size)).collect()
    }

    fn strands_of(&self, size: &Strands) -> Purchase {
        let spare = |pieces: &Pieces| Pieces {
            count: (self.stock.spare_parts * pieces.count as f64).ceil() as usize,
            ..*pieces
        };
        let spares: Vec<Pieces> = size.pieces.iter().map(spare).collect();
        let [needed, spares_m] = [&size.pieces, &spares].map(|pieces| {
            let lengths_m = pieces.iter().map(|one| one.length_m * one.count as f64);
            lengths_m.sum::<f64>()
        });
        let stock = match size.kind {
            LineKind::Rope => None,
            LineKind::Rod => Some(FromStock::Bars(
                self.cut(&[size.pieces.as_slice(), &spares].concat()),
            )),
        };
        Purchase {
            goods: Goods::Strand {
                kind: size.kind,
                diameter_m: size.diameter_m,
            },
            needed,
            spares: spares_m,
            stock,
            mass_kg: Some((needed + spares_m) * size.kg_m),
        }
    }

    /// What comes by the piece.
    fn parts(&self, built: &[Built]) -> Vec<Purchase> {
        let all = |amount: &dyn Fn(&Built) -> f64| built.iter().map(amount).sum::<f64>();
        let mirrors = all(&|built| built.make.mirrors());
        let castings_kg = all(&|built| built.make.count() * built.make.parts.masses.mounts_kg);
        let levers_kg = all(&|built| built.make.count() * built.make.parts.masses.levers_kg);
        let concrete_m3 = all(&|built| built.make.count() * built.make.parts.concrete_m3);
        let mut parts = vec![
            self.pieces(Goods::Mount, mirrors, Some(castings_kg)),
            self.pieces(Goods::Levers, mirrors, Some(levers_kg)),
        ];
        parts.extend(built.iter().map(|Built { make, .. }| {
            let torque_n_m = make.parts.drive_torque_n_m;
            let goods = Goods::Drive { torque_n_m };
            self.pieces(goods, DRIVES_PER_UNIT * make.count(), None)
        }));
        let strings = all(&|built| built.make.count());
        parts.push(self.pieces(Goods::Controller, strings, None));
        parts.extend(Self::concrete(concrete_m3));
        parts
    }

    /// So many pieces.
    pub fn pieces(&self, goods: Goods, needed: f64, needed_kg: Option<f64>) -> Purchase {
        let spares = (self.stock.spare_parts * needed).ceil();
        let grown = 1.0 + spares / needed.max(1.0);
        Purchase {
            goods,
            needed,
            spares,
            stock: None,
            mass_kg: needed_kg.map(|kg| kg * grown),
        }
    }
}
