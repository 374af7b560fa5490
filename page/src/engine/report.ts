// Made from docs/schema/report.schema.json by `npm run types`. Do not edit.

/**
 * What a check found.
 */
export type Verdict = ("holds" | "caution" | "unknown" | "fails")
/**
 * A value inside a message.
 */
export type Value = ({
figure: Figure
} | {
name: string
} | {
word: string
} | {
reference: string
} | {
list: string[]
})
/**
 * A figure with its kind and unit.
 */
export type Figure = ({
airflow_l_s: Triple
} | {
pressure_pa: Triple
} | {
length_m: Triple
} | {
diameter_mm: Triple
} | {
gap_mm: Triple
} | {
area_m2: Triple
} | {
volume_m3: Triple
} | {
velocity_m_s: Triple
} | {
temperature_c: Triple
} | {
angle_deg: Triple
} | {
factor_ratio: Triple
} | {
share_ratio: Triple
} | {
chance_ratio: Triple
} | {
count: Triple
} | {
loudness_sone: Triple
} | {
power_w: Triple
} | {
insulation_rsi: Triple
} | {
air_changes_per_h: Triple
} | {
time_h: Triple
} | {
water_l_s: Triple
} | {
humidity_ratio: Triple
} | {
mass_g: Triple
} | {
mass_kg: Triple
} | {
mass_kg_s: Triple
} | {
energy_kwh: Triple
} | {
mould_ratio: Triple
} | {
difference_k: Triple
})
/**
 * A question that a job asks.
 */
export type Question = ("air" | "mirror" | "dry" | "house" | "rules" | "place")
/**
 * How a question came out.
 */
export type Outcome = ("not_asked" | "holds" | "caution" | "unknown" | "fails")
/**
 * Check id.
 */
export type Check = ("airflow.delivered" | "airflow.model" | "duct.bend" | "duct.crushed" | "duct.flex" | "duct.length.equivalent" | "duct.size.outlet" | "duct.velocity" | "engine.unsolved" | "evidence.method" | "fan.data" | "fan.stall" | "flow.verification" | "duct.joined" | "replacement.air" | "terminal.flap" | "terminal.screen" | "room.clearing.mirror" | "room.year.mirror" | "drip.cause" | "duct.condensate.net" | "duct.drain" | "duct.frost" | "duct.idle-backflow" | "duct.sweating" | "duct.year" | "dwelling.humid" | "dwelling.humidity" | "engine.residual" | "housing.leak" | "room.clearing.back-to-normal" | "room.control.late" | "room.control.missed-shower" | "room.control.never-starts" | "room.control.never-stops" | "room.control.reachable" | "room.humidity.running-mean" | "room.mould" | "room.year.energy" | "room.year.wet-hours" | "weather.unusable" | "dwelling.makeup_air" | "house.inlet-through-fan" | "house.pressure" | "airflow.rating" | "airflow.required" | "control.required" | "dryer.length" | "duct.insulation" | "duct.length.longest" | "duct.length.table" | "dwelling.airflow.required" | "dwelling.ventilation" | "override.unused" | "sound.limit" | "terminal.clearance" | "terminal.clearance.grade" | "terminal.clearance.intake" | "terminal.clearance.line" | "terminal.clearance.opening" | "terminal.clearance.walkway" | "window.alternative" | "duct.garage" | "duct.gauge" | "duct.material" | "duct.riser" | "duct.sealing" | "duct.support" | "fan.continuous" | "fan.listing" | "fan.rating-mark" | "frame.bore" | "frame.clearance" | "terminal.damper" | "terminal.place" | "terminal.soffit" | "penetration.sheet" | "place.edge" | "place.housing" | "route.joints" | "route.out" | "route.separation" | "route.slope" | "swap.access" | "swap.collar" | "swap.depth" | "swap.neutral" | "swap.opening" | "swap.wire")
/**
 * Why something is to be done.
 */
export type TaskKind = ("stop" | "mend" | "change" | "look")
/**
 * How sure a value is.
 */
export type Standing = ("confirmed" | "from_memory" | "common_practice" | "judgement")
/**
 * Where a value comes from.
 */
export type Provenance = ("written" | "measured" | "label" | "assumed" | "rule_book" | "default" | "computed")
/**
 * How a fan curve was come by.
 */
export type CurveOrigin = ("points" | "two_ratings" | "one_rating" | "box_number" | "none")

/**
 * The whole report.
 */
export interface Report {
/**
 * Version of the format.
 */
format: number
/**
 * Version of the engine.
 */
engine: string
/**
 * Name of the job.
 */
name: string
/**
 * `us` or `metric`: how texts show figures.
 */
show: string
/**
 * Number of draws behind the triples; 0 is the likely values alone.
 */
draws_count: number
world: WorldHash
brief: Brief
answer: Answer
/**
 * Required flows.
 */
requirement: Requirement[]
/**
 * Rooms.
 */
rooms: RoomResult[]
/**
 * Fans.
 */
fans: FanResult[]
/**
 * Runs.
 */
runs: RunResult[]
/**
 * The dwelling: pressures, ways in for air, ventilation.
 */
dwelling?: (DwellingResult | null)
/**
 * Places for each housing, best first.
 */
placements: Placement[]
/**
 * Ways outdoors for each fan, best first.
 */
routes: RouteResult[]
/**
 * Holes through members that the best ways bore, the worst of each zone; where no way is known, what crossing each zone would need.
 */
bores: Bore[]
/**
 * Holes through walls and roofs.
 */
penetrations: Penetration[]
/**
 * Distances at terminals and ways out.
 */
clearances: ClearanceResult[]
/**
 * Results under other weather or use.
 */
scenarios: ScenarioResult[]
/**
 * Fans of the library on this run.
 */
candidates: Candidate[]
/**
 * Checked points.
 */
findings: Finding[]
/**
 * Defaults that were used.
 */
assumptions: Assumption[]
/**
 * What to look at next, most useful first.
 */
look_next: LookNext[]
/**
 * Safety cautions.
 */
cautions: SafetyCaution[]
/**
 * Evidence recorded for later stages, by id.
 */
evidence: Message[]
/**
 * What could not be seen, as written.
 */
not_seen: string[]
/**
 * Notes of the job, as written.
 */
notes: string[]
}
/**
 * What the report was made from.
 */
export interface WorldHash {
/**
 * BLAKE3 of the job text.
 */
job: string
/**
 * Rule book id and BLAKE3 of its resolved text with amendments.
 */
rule_book?: (BookHash | null)
/**
 * BLAKE3 of the library texts, in order.
 */
library: string
/**
 * BLAKE3 of the hours of weather that the year was followed through, as they were read or made: temperature (°C), humidity
 * ratio, pressure (Pa) and wind (m/s, -1 where there is none) of each hour in turn, as little-endian 64-bit numbers; absent
 * where no year was asked for or no weather is known.
 */
weather?: (string | null)
}
/**
 * A rule book and its hash.
 */
export interface BookHash {
/**
 * Book id.
 */
id: string
/**
 * Title.
 */
title: string
/**
 * Names of local amendments laid over it.
 */
amendments: string[]
/**
 * BLAKE3 of its resolved text.
 */
hash: string
}
/**
 * What a person reads first.
 */
export interface Brief {
verdict: Verdict
/**
 * On a call-back what most likely causes each symptom, before all else.
 */
symptoms: Message[]
/**
 * Each question, always all of them, in the order of [`Question::ALL`].
 */
answers: Answered[]
/**
 * What to do next, at most three, most useful first.
 */
do: Task[]
}
/**
 * A sentence by key, with its values.
 */
export interface Message {
/**
 * Key of the sentence.
 */
key: string
/**
 * Values by the name they have in the sentence.
 */
values?: {
[k: string]: Value
}
/**
 * The sentence in the language and units asked for; empty until it is put into words.
 */
text?: string
}
/**
 * Low, likely and high: 5th percentile, median and 95th percentile of the draws.
 */
export interface Triple {
/**
 * 5th percentile.
 */
low: number
/**
 * Median.
 */
likely: number
/**
 * 95th percentile.
 */
high: number
}
/**
 * How one question came out.
 */
export interface Answered {
question: Question
outcome: Outcome
word: Message
/**
 * What stands behind it: the figure against what is required, then the points that decide.
 */
says: Message[]
/**
 * The figure that the question asks for.
 */
figure?: (Figure | null)
/**
 * What is required of it.
 */
required?: (Figure | null)
/**
 * Chance that it is met, where that is not sure.
 */
chance?: (number | null)
/**
 * Room of the figure, the worst where there are several; empty where it is of no room.
 */
room: string
/**
 * Points that decide the outcome, most telling first.
 */
decided_by: Point[]
/**
 * Room by room, where there are several.
 */
rooms: RoomAnswer[]
/**
 * Points that were passed over with a reason.
 */
overridden_count: number
}
/**
 * A finding, named.
 */
export interface Point {
id: Check
/**
 * Room, fan, run, part or terminal.
 */
subject: string
}
/**
 * The figure of one of several rooms.
 */
export interface RoomAnswer {
/**
 * Room id.
 */
room: string
outcome: Outcome
says: Message
}
/**
 * One thing to do.
 */
export interface Task {
kind: TaskKind
what: Message
/**
 * Time it takes, about (judgement); none where that can't be said.
 */
effort_h?: (number | null)
question: Question
/**
 * Share of the draws in which it settles the question; none for what mends.
 */
settles_ratio?: (number | null)
/**
 * Points that it settles or mends.
 */
points: Point[]
/**
 * Keys of the job to write what was found.
 */
at: string[]
/**
 * The change, where it is one.
 */
patch?: (PatchText | null)
}
/**
 * A change to a job file: values by path.
 */
export interface PatchText {
/**
 * Values to set, in order.
 */
set: SetText[]
/**
 * Values to take out, by path: what the job says of the fan that goes.
 */
remove: string[]
}
/**
 * One value to set.
 */
export interface SetText {
/**
 * Path, for example `fan.fan.model`.
 */
at: string
/**
 * Value as it is written in the file.
 */
value: string
}
/**
 * The overall answer.
 */
export interface Answer {
verdict: Verdict
/**
 * One sentence a room: how much leaves, whether it is enough.
 */
messages: Message[]
}
/**
 * A rate of air a room must get, by one method of one book.
 */
export interface Requirement {
/**
 * Room id; empty for the whole dwelling.
 */
room: string
/**
 * The method, by key.
 */
method: string
/**
 * Required flow; none when the book does not say or an input is missing.
 */
airflow_l_s?: (Triple | null)
/**
 * Whether this is the one that governs the room.
 */
governs: boolean
/**
 * Whether the book calls for it or only advises it.
 */
guidance: boolean
source: Source
/**
 * How it was worked out.
 */
working: Step[]
/**
 * What is missing, when there is no figure.
 */
missing?: (Message | null)
}
/**
 * Where a limit or a formula comes from.
 */
export interface Source {
/**
 * Book, paper or standard.
 */
book: string
/**
 * Section, table or equation.
 */
section?: string
standing: Standing
}
/**
 * One step of a working: an equation with its inputs and its result.
 */
export interface Step {
/**
 * The equation, in symbols.
 */
equation: string
/**
 * The inputs, in the order of the equation.
 */
inputs: WorkingInput[]
/**
 * What the step gives.
 */
result?: (Figure | null)
source: Source
}
/**
 * One input of a step of a working.
 */
export interface WorkingInput {
/**
 * Symbol in the equation.
 */
symbol: string
what: Message
figure: Figure
from: Provenance
}
/**
 * What a room gets.
 */
export interface RoomResult {
/**
 * Room id.
 */
id: string
/**
 * Name for people.
 */
name: string
/**
 * Floor area.
 */
floor_m2?: (Triple | null)
/**
 * Volume.
 */
room_m3?: (Triple | null)
/**
 * Air that leaves the room for outdoors.
 */
delivered?: (Delivered | null)
/**
 * Pressure of the room against outdoors.
 */
pressure_pa?: (Triple | null)
/**
 * The room through a design shower; none when the air or the size of the room is not known.
 */
clearing?: (Clearing | null)
/**
 * The room through a year, where it was asked for and the weather is known.
 */
year?: (RoomYear | null)
/**
 * What its humidity control can do, where it has one.
 */
control?: (ControlResult | null)
}
/**
 * Air that leaves a room.
 */
export interface Delivered {
airflow_l_s: Triple
mass_kg_s: Triple
/**
 * Chance that the flow is at least what governs; none when nothing is required.
 */
chance_enough?: (number | null)
/**
 * Air changes of the room.
 */
changes_per_h?: (Triple | null)
/**
 * First-order time for three volumes of the room to pass, in hours.
 */
clearing_h?: (Triple | null)
}
/**
 * A room through a design shower, and through showers back to back where the job has more than one.
 */
export interface Clearing {
peak_humidity_ratio: Triple
mirror_time_s: Triple
back_to_normal_time_s: Triple
/**
 * Longest time that was followed after the shower: a time as long as this means "not within it".
 */
followed_s: number
/**
 * Chance that the mirror clears within the time followed.
 */
mirror_clears_ratio: number
/**
 * Chance that the room is back within the time followed.
 */
back_to_normal_ratio: number
left_on_surfaces_g: Triple
carried_off_g: Triple
fan_h: Triple
energy_kwh: Triple
air_heat_kwh: Triple
/**
 * Minutes after the end of the last of several showers back to back; none for one shower.
 */
back_to_back_mirror_time_s?: (Triple | null)
/**
 * Residual of the water balance over what was put through; the worst of all draws.
 */
water_residual_ratio: number
/**
 * Residual of the energy balance over what was put through; the worst of all draws.
 */
energy_residual_ratio: number
}
/**
 * A room through a year at the likely values.
 */
export interface RoomYear {
/**
 * Month by month, January first.
 */
months: RoomMonth[]
/**
 * Hours in which the room stood above 80 % relative humidity.
 */
hours_above_80_h: number
mould_peak_ratio: Triple
/**
 * Surface on which it is highest.
 */
mould_surface: string
/**
 * Highest 30-day running mean of surface humidity.
 */
running_humidity_ratio: number
/**
 * Time the fan ran.
 */
fan_h: number
/**
 * Electricity of fan and heated mirror; none where the power of a fan is not known.
 */
energy_kwh?: (number | null)
/**
 * Heat (and cold) in the air that was drawn off and had to be made up.
 */
air_heat_kwh: number
/**
 * What both cost at the job's prices; none where a price of something that is used is not written.
 */
cost?: (Money | null)
/**
 * Showers after which the mirror was clear within half an hour, over all showers; none without a mirror.
 */
clear_in_half_an_hour_ratio?: (number | null)
/**
 * Residual of the water balance over what was put through.
 */
water_residual_ratio: number
/**
 * Residual of the energy balance over what was put through.
 */
energy_residual_ratio: number
}
/**
 * One month of a room's year.
 */
export interface RoomMonth {
/**
 * 1 is January.
 */
month: number
/**
 * Mean outdoor temperature.
 */
outdoor_c: number
/**
 * Mean relative humidity of the room.
 */
humidity_ratio: number
/**
 * Mean relative humidity of the rest of the dwelling.
 */
dwelling_humidity_ratio: number
/**
 * Hours above 80 % in the room.
 */
hours_above_80_h: number
/**
 * Time the fan ran.
 */
fan_h: number
/**
 * Electricity of fan and heated mirror; none where the power of a fan is not known.
 */
energy_kwh?: (number | null)
/**
 * Heat (and cold) in the air drawn off.
 */
air_heat_kwh: number
/**
 * Mould index of the worst surface at the end of the month.
 */
mould_ratio: number
/**
 * Mean time until the mirror is clear.
 */
mirror_time_s?: (number | null)
/**
 * Vapour the fan carried off.
 */
carried_off_kg: number
}
/**
 * An amount of money, in the currency the job names.
 */
export interface Money {
/**
 * Amount.
 */
amount: number
/**
 * Currency as the job writes it; none where it names none.
 */
currency?: (string | null)
}
/**
 * What a humidity control can do in this dwelling.
 */
export interface ControlResult {
/**
 * Set-point that was judged.
 */
set_point_ratio?: (number | null)
/**
 * Whether the set-point can be reached between showers, month by month, January first; empty
 * without weather.
 */
reachable: boolean[]
/**
 * Lowest relative humidity that the room comes down to with the fan on, month by month.
 */
lowest_humidity_ratio: number[]
/**
 * Set-point that would do all year, if any.
 */
would_do_ratio?: (number | null)
/**
 * Time from the start of the shower until the control starts the fan; none if it never does.
 */
starts_after_s?: (number | null)
/**
 * Time the fan goes on after the shower; none if it does not stop within the time followed.
 */
stops_after_s?: (number | null)
}
/**
 * What a fan does on its system.
 */
export interface FanResult {
/**
 * Fan id.
 */
id: string
/**
 * Model, if from a library.
 */
model?: (string | null)
/**
 * Where curve and system meet.
 */
operating_point?: (OperatingPoint | null)
/**
 * Further crossings at the likely values, when the curve has a stall hump.
 */
other_crossings: Crossing[]
/**
 * Loudness at the operating point, with a one-sided band away from its rating.
 */
loudness_sone?: (Triple | null)
/**
 * Where the loudness comes from: the label, or a band without a source away from its rating.
 */
loudness_source?: (Source | null)
/**
 * Electric power.
 */
power_w?: (Triple | null)
curve: CurveOrigin
}
/**
 * Flow and pressure of a fan.
 */
export interface OperatingPoint {
airflow_l_s: Triple
pressure_pa: Triple
}
/**
 * A crossing of fan curve and system curve.
 */
export interface Crossing {
/**
 * Flow.
 */
airflow_l_s: number
/**
 * Pressure.
 */
pressure_pa: number
/**
 * Whether the fan stays there after a small push.
 */
stable: boolean
}
/**
 * What a run does.
 */
export interface RunResult {
/**
 * Run id.
 */
id: string
/**
 * Flow in the run.
 */
airflow_l_s?: (Triple | null)
/**
 * Losses, part by part in the direction of flow.
 */
losses: Loss[]
/**
 * Sum of the losses.
 */
total_pa?: (Triple | null)
/**
 * Straight length.
 */
straight_m?: (Triple | null)
/**
 * Water in the run; none when the air, the duct or its surroundings are not known.
 */
condensate?: (Condensate | null)
/**
 * Insulation the run would need; none when the water in it is not known.
 */
insulation?: (InsulationNeed | null)
}
/**
 * Loss of one part.
 */
export interface Loss {
/**
 * Part id; `terminal`, `outlet` and the like for what is not a part.
 */
part: string
/**
 * What it is, by key.
 */
what: string
pressure_pa: Triple
/**
 * Mean velocity in it.
 */
velocity_m_s?: (Triple | null)
}
/**
 * Water in a run.
 */
export interface Condensate {
per_shower_g: Triple
net_winter_g: Triple
frost_g: Triple
stays_g: Triple
back_to_fan_g: Triple
out_at_terminal_g: Triple
coldest_inside_c: Triple
/**
 * Residual of the balances of water, vapour and heat over what was put through; the worst of all draws.
 */
water_residual_ratio: number
/**
 * The winter day it was worked out for.
 */
outdoor_c: number
/**
 * Piece by piece, in the direction of flow.
 */
pieces: PieceWater[]
/**
 * Month by month over the year, where it was asked for: net grams, January first.
 */
months_g: number[]
}
/**
 * Water in one piece of a run, at the likely values.
 */
export interface PieceWater {
/**
 * Part id.
 */
part: string
/**
 * What surrounds it, by key.
 */
surroundings: string
/**
 * Temperature of the surroundings on that day.
 */
surroundings_c: number
/**
 * Resistance from its inner wall to the surroundings, referred to the inner area.
 */
resistance_rsi: number
/**
 * Coldest inner surface.
 */
coldest_inside_c: number
/**
 * Condensed in one shower.
 */
condensed_g: number
/**
 * Coldest outer surface in summer and the dew point of the surroundings, where the duct can be cold.
 */
outside_summer_c?: (number | null)
/**
 * Dew point of the surroundings in summer.
 */
dew_point_summer_c?: (number | null)
}
/**
 * Insulation that a run would need.
 */
export interface InsulationNeed {
/**
 * Least insulation that keeps the net daily water of the fan's use under the limit, 0 where the duct may be bare; none
 * when none suffices. What rises into the duct at rest is not counted: no insulation helps against it.
 */
needed_rsi?: (number | null)
/**
 * Product of the library with at least that, by its id.
 */
product?: (string | null)
/**
 * Limit of net daily water.
 */
limit_g: number
/**
 * What helps where no insulation suffices: run-on, slope or trap.
 */
instead: Message[]
}
/**
 * The dwelling around the rooms.
 */
export interface DwellingResult {
/**
 * Pressure at each appliance with every exhaust on, worst case.
 */
pressure: PressureResult[]
/**
 * Way in for the air of each room.
 */
transfer: TransferResult[]
/**
 * Ventilation of the whole dwelling; none when nothing is known of it.
 */
ventilation?: (WholeVentilation | null)
/**
 * The rest of the dwelling through a year, where it was asked for and the weather is known.
 */
year?: (DwellingYear | null)
}
/**
 * Pressure at an appliance with every exhaust on, in the worst case.
 */
export interface PressureResult {
/**
 * Appliance id; `dwelling` when the job has none.
 */
appliance: string
indoor_minus_outdoor_pa: Triple
by_exhausts_pa: Triple
calm_pa: Triple
exhausts_off_pa: Triple
/**
 * Limit, as a pressure below outdoors (negative); none when no book says.
 */
limit_pa?: (number | null)
/**
 * Source of the limit.
 */
source?: (Source | null)
exhaust_l_s: Triple
/**
 * Case that is worst, by key.
 */
worst: string
}
/**
 * Way in for the air of a room.
 */
export interface TransferResult {
/**
 * Room id.
 */
room: string
gap_m: Triple
/**
 * What to saw off the leaf; none when the present gap is not known.
 */
saw_cut_m?: (Triple | null)
grille_m2: Triple
/**
 * Pressure allowed between room and dwelling.
 */
allowed_pa: number
airflow_l_s: Triple
}
/**
 * Ventilation of the whole dwelling.
 */
export interface WholeVentilation {
/**
 * Continuous rate asked for, the most where bedrooms or floor area are a range; none when the book does not say.
 */
required_l_s?: (number | null)
/**
 * Credit for infiltration.
 */
infiltration_credit_l_s?: (number | null)
/**
 * Continuous rate that what is written gives, intermittent running counted by its share of time.
 */
provided_l_s?: (Triple | null)
/**
 * Hours a day the job's fans would have to run at their delivered flow to give it.
 */
hours_a_day_h?: (Triple | null)
/**
 * Continuous flow that would give it.
 */
continuous_l_s?: (number | null)
}
/**
 * The rest of the dwelling through a year.
 */
export interface DwellingYear {
weather: Message
/**
 * What was noticed and put right in the weather file.
 */
weather_notes: Message[]
/**
 * Mean relative humidity, January first.
 */
humidity_ratio: number[]
/**
 * Hours above 60 %.
 */
hours_above_60_h: number
/**
 * Mean infiltration.
 */
infiltration_l_s: number
/**
 * Water taken out by the air conditioner and the dehumidifier.
 */
dried_kg: number
/**
 * Residual of its water balance over what was put through.
 */
water_residual_ratio: number
}
/**
 * A place for the housing of a fan, best first.
 */
export interface Placement {
/**
 * Fan id.
 */
fan: string
/**
 * 1 is nearest to the wish; 0 is the place that is written, where the housing hangs there.
 */
rank: number
/**
 * Bay it hangs in, by the name of its framing and its number.
 */
bay: string
/**
 * Middle of the housing.
 */
x_m: number
/**
 * Middle of the housing.
 */
y_m: number
/**
 * Corners of its body in plan, least first.
 * 
 * @minItems 2
 * @maxItems 2
 */
body_m: [[number, number], [number, number]]
/**
 * Turned by so many degrees: 0, 90, 180 or 270.
 */
turned_deg: number
/**
 * Where the duct leaves the housing: x, y, z.
 * 
 * @minItems 3
 * @maxItems 3
 */
outlet_m: [number, number, number]
/**
 * Direction in which it leaves: 0 along x, 90 along y.
 */
outlet_towards_deg: number
/**
 * What was wished for, by key.
 */
wish: string
/**
 * How far off the wish.
 */
offset_m: number
/**
 * How far off along x and along y.
 * 
 * @minItems 2
 * @maxItems 2
 */
offset_xy_m: [number, number]
/**
 * Why it is off, where it is.
 */
why?: (Message | null)
/**
 * Blocking to cut and set.
 */
blocks: BlockPiece[]
/**
 * What is fastened to what: faces of members, blocks, hanger bars as the other way.
 */
fastening: Message[]
/**
 * Members through which the cable must be drilled.
 */
drilled: string[]
patch: PatchText
}
/**
 * A piece of blocking.
 */
export interface BlockPiece {
/**
 * Between these members or edges.
 * 
 * @minItems 2
 * @maxItems 2
 */
between: [string, string]
/**
 * Length to cut.
 */
length_m: number
/**
 * Size, as the trade names it.
 */
size: string
/**
 * Middle of its face towards the housing: x, y.
 * 
 * @minItems 2
 * @maxItems 2
 */
at_m: [number, number]
}
/**
 * A way outdoors for the duct of a fan, best first.
 */
export interface RouteResult {
/**
 * Fan id.
 */
fan: string
/**
 * 1 is recommended.
 */
rank: number
/**
 * Way out it takes.
 */
way_out: string
/**
 * Duct of the library by its id; that of the run by its size, as the trade names it.
 */
duct: string
/**
 * Inside diameter of the duct: what drawings and holes of this way are made for.
 */
size_m: number
/**
 * Bays and spaces it goes through, in order.
 */
through: string[]
/**
 * Corners of the centre line from the outlet of the housing to the terminal: x, y, z.
 */
line_m: [number, number, number][]
/**
 * Straight duct to cut, with what goes through wall or roof; elbows are apart. It is the length that the run has once this way
 * is taken, so that the two can be compared.
 */
length_m: number
/**
 * Bends, in order.
 */
elbows: Elbow[]
/**
 * Holes through members.
 */
bores: Bore[]
/**
 * Loss at the required flow, by the search.
 */
loss_pa: number
/**
 * What would leave the room, with the whole network; none when it can't be said.
 */
delivered?: (Delivered | null)
/**
 * Water of a winter day that does not get out: it stands in the duct or runs back to the fan. Of the recommended way, where
 * it can be said.
 */
stays_g?: (Triple | null)
/**
 * Work to build it.
 */
labour_h: number
/**
 * Straight legs in order from the housing, as they lie once the duct falls to the outdoors.
 */
legs: RouteLeg[]
/**
 * Fall of level legs, a length of height on the same length of duct.
 */
slope_ratio: number
slope_source: Source
/**
 * Fall by the slope from the last rise, or from the housing, to the terminal.
 */
fall_m: number
/**
 * Places from which water can't run outdoors, in order.
 */
low_points: LowPoint[]
supports: Supports
/**
 * Places of supports along the line, from the outlet.
 */
supports_m: number[]
jointing: Jointing
/**
 * What to bring: duct, elbows, supports, fasteners, insulation, what it ends in.
 */
materials: Message[]
/**
 * How loss and work are made up, in this order.
 */
working: Step[]
verdict: Verdict
/**
 * What was noticed.
 */
notes: Message[]
patch: PatchText
}
/**
 * A bend of a way outdoors.
 */
export interface Elbow {
/**
 * Turn.
 */
turn_deg: number
/**
 * Radius of the centre line.
 */
radius_m: number
/**
 * Corner: x, y, z.
 * 
 * @minItems 3
 * @maxItems 3
 */
at_m: [number, number, number]
}
/**
 * A hole through a member.
 */
export interface Bore {
/**
 * Member, by the name of its framing and its number.
 */
member: string
/**
 * Centre of the hole, x, y, z, on a way outdoors; none where it is asked of a member at large.
 * 
 * @minItems 3
 * @maxItems 3
 */
at_m?: ([number, number, number] | null)
/**
 * Kind of member, by key.
 */
kind: string
/**
 * Depth of the member; none when it is not known.
 */
depth_m?: (number | null)
/**
 * Hole.
 */
diameter_m: number
/**
 * Largest hole the book allows there; none where the book gives no number and the maker's chart is needed.
 */
allowed_m?: (number | null)
/**
 * Distance from the hole to the nearer edge.
 */
edge_m?: (number | null)
/**
 * Least distance the book asks for.
 */
edge_least_m?: (number | null)
verdict: Verdict
source: Source
}
/**
 * A straight leg of a way outdoors.
 */
export interface RouteLeg {
/**
 * Bays and spaces it goes through, in order.
 */
through: string[]
/**
 * From corner to corner along the centre line; the last one ends at the inner face of wall or roof.
 */
length_m: number
/**
 * Straight duct to cut for it, between the fittings; the last one goes on through wall or roof.
 */
straight_m: number
/**
 * How far its end lies below its begin; below nought where it rises.
 */
fall_m: number
/**
 * Which way water runs in it, by key: outdoors, back, or nowhere.
 */
runs: string
/**
 * Centre of the duct above the finished ceiling at the housing, where the leg begins.
 */
from_over_ceiling_m: number
/**
 * The same where it ends.
 */
to_over_ceiling_m: number
/**
 * Whether there is room for the fall, bores included; none where it has no slope.
 */
fits?: (boolean | null)
}
/**
 * A place of a duct from which water can't run outdoors.
 */
export interface LowPoint {
/**
 * Where: x, y, z.
 * 
 * @minItems 3
 * @maxItems 3
 */
at_m: [number, number, number]
/**
 * Along the line, from the outlet.
 */
along_m: number
/**
 * Bay or space it lies in.
 */
within: string
/**
 * Whether water runs on from there into the housing.
 */
is_housing: boolean
}
/**
 * Distance between supports of a duct.
 */
export interface Supports {
/**
 * No further apart than this.
 */
spacing_m: number
/**
 * What the book allows at most; none where no book in use says.
 */
most_m?: (number | null)
source: Source
}
/**
 * Joints of a duct.
 */
export interface Jointing {
/**
 * Joints in order, from the collar to the terminal.
 */
joints: Joint[]
/**
 * Straight pieces to cut.
 */
piece_count: number
/**
 * Length in which the duct is sold.
 */
sold_m: number
sold_source: Source
/**
 * Screws or rivets in a joint that is screwed, spread evenly round.
 */
screw_count: number
/**
 * Least lap of a crimped joint; none where no book in use says.
 */
lap_m?: (number | null)
/**
 * What a joint may be sealed with.
 */
seals: string[]
source: Source
}
/**
 * A joint of a duct.
 */
export interface Joint {
/**
 * Along the line, from the outlet.
 */
along_m: number
/**
 * What it joins the duct to, by key: collar, another piece, elbow, terminal.
 */
kind: string
/**
 * How it is made, by key.
 */
made: string
}
/**
 * A hole through wall or roof.
 */
export interface Penetration {
/**
 * Way out or terminal it is for.
 */
at: string
/**
 * Hole.
 */
diameter_m: number
/**
 * Outside diameter of what goes through.
 */
duct_m: number
/**
 * Thickness of the wall or roof.
 */
thickness_m?: (number | null)
/**
 * Fall of the duct across it, to outdoors.
 */
fall_m: number
/**
 * Centre above the starting course line and number of courses; none without coursing.
 */
courses?: (Coursing | null)
/**
 * Foam round the duct.
 */
foam_m3: number
/**
 * What is done, in order.
 */
steps: Message[]
}
/**
 * Centre of a hole on the course lines of masonry.
 */
export interface Coursing {
/**
 * Height of brick and joint.
 */
course_m: number
/**
 * Full courses below the centre.
 */
below_count: number
/**
 * Height of the centre above the line that was counted from.
 */
centre_m: number
/**
 * How far that is off the wanted height.
 */
offset_m: number
}
/**
 * Distance from a terminal to something near it.
 */
export interface ClearanceResult {
/**
 * Way out or terminal.
 */
at: string
/**
 * What is near, by its id.
 */
near: string
/**
 * Kind, by key.
 */
kind: string
/**
 * Distance.
 */
distance_m: number
/**
 * Least distance; none when no book says.
 */
least_m?: (number | null)
verdict: Verdict
/**
 * Book and section.
 */
source?: (Source | null)
}
/**
 * A result under weather or use other than the reference case.
 */
export interface ScenarioResult {
/**
 * Scenario id.
 */
id: string
/**
 * Air delivered to each served room at the likely values; negative is air coming in.
 */
delivered: CandidateRoom[]
/**
 * The same at the likely values of the reference case, to compare with.
 */
calm: CandidateRoom[]
/**
 * What the scenario names and could not be taken into account, since something is not written.
 */
left_out: Message[]
}
/**
 * Air a candidate would deliver to a room.
 */
export interface CandidateRoom {
/**
 * Room id.
 */
room: string
airflow_l_s: Triple
}
/**
 * A change to the job that would be worth taking.
 */
export interface Candidate {
/**
 * Rank, 1 is best.
 */
rank: number
/**
 * Fan of the job that would be replaced.
 */
fan: string
/**
 * Library model.
 */
model: string
/**
 * Name for people.
 */
name: string
/**
 * Air delivered to each served room, by room id.
 */
delivered: CandidateRoom[]
/**
 * Chance that every served room gets enough.
 */
chance_enough?: (number | null)
/**
 * Loudness on this run.
 */
loudness_sone?: (Triple | null)
/**
 * Electric power.
 */
power_w?: (number | null)
/**
 * Findings that go with it: outlet and duct, opening, listing, house pressure.
 */
notes: CandidateNote[]
patch: PatchText
}
/**
 * A note on a candidate.
 */
export interface CandidateNote {
id: Check
verdict: Verdict
message: Message
}
/**
 * One checked point.
 */
export interface Finding {
id: Check
/**
 * Id of the room, fan, run, part or terminal that is checked.
 */
subject: string
verdict: Verdict
message: Message
/**
 * The figure that was compared.
 */
figure?: (Figure | null)
/**
 * The limit it was compared with.
 */
limit?: (Figure | null)
/**
 * Chance that the check holds, where it was judged from draws.
 */
chance?: (number | null)
source: Source
/**
 * How the figure was worked out.
 */
working: Step[]
/**
 * What to do, cheapest first.
 */
todo: Message[]
/**
 * The user's reason for going on in spite of it.
 */
overridden?: (string | null)
}
/**
 * A value that was not written and was taken from a default.
 */
export interface Assumption {
/**
 * Path of the value in the job, where it can be written.
 */
at: string
what: Message
/**
 * Value taken.
 */
figure?: (Figure | null)
/**
 * Words taken, for categories.
 */
words: string[]
/**
 * Whether it was said to be unknown (rather than not written).
 */
said_unknown: boolean
source: Source
}
/**
 * A thing worth looking at on site.
 */
export interface LookNext {
/**
 * Path of the value in the job.
 */
at: string
what: Message
/**
 * Share of the draws in which knowing it would settle the verdict.
 */
settles_ratio: number
/**
 * Time it takes, about (judgement).
 */
effort_h: number
finding: Check
/**
 * Subject of that finding.
 */
subject: string
}
/**
 * A safety caution that the job touches.
 */
export interface SafetyCaution {
/**
 * Id, for example `combustion`.
 */
id: string
message: Message
source: Source
}
