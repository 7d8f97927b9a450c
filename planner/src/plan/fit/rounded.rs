//! A sleeve's figures as the plan states them: rounded once, so that equal inputs give equal bytes. Each field is named, so that
//! none that is new passes unrounded.

use super::{
    Assigned, Clearance, DeckTilt, FlatPair, Gap, GoingIn, Holding, Hoop, Interference, ORingFit, OwnPocket,
    Protrusion, Register, RingSeat, Running, Seat, SleeveFit, SleeveLimit, Squeeze, Stack, WallLeft,
};
use crate::plan::rounding::plan as r;

fn o(value: Option<f64>) -> Option<f64> {
    value.filter(|v| v.is_finite()).map(r)
}

fn hoop(h: Hoop) -> Hoop {
    Hoop { block: r(h.block), sleeve: r(h.sleeve) }
}

fn tight(i: Interference) -> Interference {
    Interference { least: r(i.least), most: r(i.most) }
}

fn squeeze(s: Squeeze) -> Squeeze {
    Squeeze { squeeze: r(s.squeeze), fill: r(s.fill) }
}

impl SleeveFit {
    /// Every figure rounded to what `plan.json` states.
    #[must_use]
    pub fn rounded(self) -> Self {
        Self {
            registers: self.registers.into_iter().map(register).collect(),
            going_in: going_in(self.going_in),
            seat: seat(self.seat),
            o_rings: self.o_rings.into_iter().map(o_ring).collect(),
            protrusion: self.protrusion.map(protrusion),
            holding: self.holding.map(holding),
            fire_ring: self.fire_ring.into_iter().map(ring).collect(),
            flats: self.flats.into_iter().map(pair).collect(),
            assigned: self.assigned.into_iter().map(assigned).collect(),
            stack: self.stack.map(stack),
            sleeve_limits: self.sleeve_limits.into_iter().map(limit).collect(),
            unjudged: self.unjudged,
            notes: self.notes,
            of_figures: self.of_figures,
        }
    }
}

fn register(g: Register) -> Register {
    Register {
        diameter: r(g.diameter),
        pocket: r(g.pocket),
        interference: tight(g.interference),
        inside: r(g.inside),
        outside: o(g.outside),
        wall: g.wall.map(|w| WallLeft { wall: r(w.wall), from: w.from, cylinder: w.cylinder }),
        pressure: o(g.pressure),
        pressure_least: o(g.pressure_least),
        hoop: g.hoop.map(hoop),
        hoop_most: g.hoop_most.map(hoop),
        closure: o(g.closure),
        hoop_ratio: o(g.hoop_ratio),
        hoop_ratio_at_most: o(g.hoop_ratio_at_most),
        gone_at: o(g.gone_at),
        running: g.running.map(|w| Running {
            interference: tight(w.interference),
            pressure: r(w.pressure),
            pressure_least: r(w.pressure_least),
            hoop: hoop(w.hoop),
        }),
        feature: g.feature,
        code: g.code,
        worked: g.worked,
    }
}

fn going_in(g: GoingIn) -> GoingIn {
    GoingIn {
        block: r(g.block),
        soak: r(g.soak),
        sleeve: r(g.sleeve),
        clearance: r(g.clearance),
        hottest: r(g.hottest),
        chilled: o(g.chilled),
        gaps: g.gaps.into_iter().map(|row| Gap { block: r(row.block), gap: r(row.gap) }).collect(),
        reheat_below: o(g.reheat_below),
        decides: g.decides,
        worked: g.worked,
    }
}

fn seat(s: Seat) -> Seat {
    Seat {
        area: r(s.area),
        smallest_at: s.smallest_at,
        width: r(s.width),
        width_at_flats: o(s.width_at_flats),
        load: o(s.load),
        pressure: o(s.pressure),
        pressure_most: o(s.pressure_most),
        bears: o(s.bears),
        bears_by: s.bears_by,
        ratio: o(s.ratio),
        yield_at_work: o(s.yield_at_work),
        gas_load: o(s.gas_load),
        pressure_at_peak: o(s.pressure_at_peak),
        flange_pressure: o(s.flange_pressure),
    }
}

fn holding(h: Holding) -> Holding {
    Holding {
        friction: r(h.friction),
        cold: o(h.cold),
        at_work: o(h.at_work),
        gas_load: o(h.gas_load),
        thermal_pull: r(h.thermal_pull),
        left: o(h.left),
    }
}

fn o_ring(f: ORingFit) -> ORingFit {
    ORingFit {
        depth: r(f.depth),
        squeeze: r(f.squeeze),
        stretch: r(f.stretch),
        fill: r(f.fill),
        cord_stretched: r(f.cord_stretched),
        least: squeeze(f.least),
        most: squeeze(f.most),
        aside: f.aside.map(r),
        hot: squeeze(f.hot),
        hot_most: squeeze(f.hot_most),
        from_jacket: o(f.from_jacket),
        feature: f.feature,
        remarks: f.remarks,
    }
}

fn protrusion(p: Protrusion) -> Protrusion {
    Protrusion {
        least: r(p.least),
        most: r(p.most),
        wanted_least: r(p.wanted_least),
        wanted_most: r(p.wanted_most),
        decks: p
            .decks
            .into_iter()
            .map(|d| DeckTilt {
                along: r(d.along),
                across: r(d.across),
                spread: r(d.spread),
                skim: r(d.skim),
                flatness: r(d.flatness),
                set_up: d.set_up,
                bank: d.bank,
            })
            .collect(),
    }
}

fn ring(s: RingSeat) -> RingSeat {
    RingSeat {
        on_flange_least: r(s.on_flange_least),
        least_at: r(s.least_at),
        ring: r(s.ring),
        on_block_most: r(s.on_block_most),
        over_bore_most: r(s.over_bore_most),
        cylinder: s.cylinder,
        joint_under: s.joint_under,
    }
}

fn pair(p: FlatPair) -> FlatPair {
    FlatPair {
        distance: r(p.distance),
        off_nominal: r(p.off_nominal),
        gap_as_supplied: r(p.gap_as_supplied),
        gap: r(p.gap),
        centre_to_flat: r(p.centre_to_flat),
        gap_hot: r(p.gap_hot),
        front: p.front,
        rear: p.rear,
    }
}

fn assigned(a: Assigned) -> Assigned {
    Assigned {
        pockets: a
            .pockets
            .into_iter()
            .map(|p| OwnPocket { feature: p.feature, outside: r(p.outside), diameter: r(p.diameter) })
            .collect(),
        ledge: a.ledge.map(r),
        thickness: a.thickness.map(r),
        thickness_spread: a.thickness_spread.map(r),
        cylinder: a.cylinder,
        number: a.number,
    }
}

fn stack(s: Stack) -> Stack {
    Stack {
        crown_top: r(s.crown_top),
        crown_bottom: r(s.crown_bottom),
        oil_ring_bottom: r(s.oil_ring_bottom),
        skirt_bottom: r(s.skirt_bottom),
        ring_hold: r(s.ring_hold),
        skirt_out: r(s.skirt_out),
        crown_gap: r(s.crown_gap),
        clearance: s.clearance.map(|c| Clearance { cold: r(c.cold), hot: r(c.hot) }),
        bore_today: o(s.bore_today),
    }
}

fn limit(l: SleeveLimit) -> SleeveLimit {
    SleeveLimit {
        limit: l.limit,
        feature: l.feature,
        value: o(l.value),
        is_length: l.is_length,
        least: r(l.least),
        prefer: o(l.prefer),
        margin: o(l.margin),
        of_itself: l.of_itself,
        why: l.why,
        verdict: l.verdict,
    }
}
