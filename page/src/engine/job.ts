// Made from docs/schema/job.schema.json by `npm run types`. Do not edit.

/**
 * What the contractor writes down about a dwelling, its rooms, fans and ducts.
 */
export interface DewpathJobFile {
/**
 * Version of the job-file format.
 */
format?: 1
/**
 * What you call the job; the file name when left out.
 */
name?: string
/**
 * The day of the job: it stands on every drawing. Year, month, day; with or without quotes. When left out the drawings say that it is not written: today is never taken for it.
 */
date?: string
/**
 * Units of the output. Input may mix both systems freely. When left out, the system of the named rule book's country is used, and that is said in a warning.
 */
show?: string
/**
 * What kind of work this is: everything new, an old fan swapped, or a call-back about something built. New when left out.
 */
work?: string
/**
 * Id of the rule book that is in force. Local rules and the authority on site always go first.
 */
rule_book?: string
/**
 * Further rule books whose answers are shown beside.
 */
also_show?: (string | string[])
/**
 * Files with local amendments, laid over the rule book in this order.
 */
amendments?: (string | string[])
/**
 * Files with your own fans, terminals and ducts, relative to the job file.
 */
library?: (string | string[])
/**
 * Free notes; printed, never interpreted.
 */
notes?: (string | string[])
/**
 * What could not be seen at the survey; printed, never interpreted.
 */
not_seen?: (string | string[])
site?: Site
dwelling?: Dwelling
/**
 * A room that is served.
 */
room?: (Room | Room[])
/**
 * A grille that is connected by a run to a fan elsewhere.
 */
grille?: (Grille | Grille[])
/**
 * A fan.
 */
fan?: (Fan | Fan[])
/**
 * A point where runs meet.
 */
junction?: (Junction | Junction[])
/**
 * A run of duct, in the direction of the air.
 */
run?: (Run | Run[])
/**
 * Where air leaves.
 */
terminal?: (Terminal | Terminal[])
/**
 * A part of a floor or ceiling in which members run one way at one spacing.
 */
framing?: (Framing | Framing[])
/**
 * A space that a duct may pass through.
 */
space?: (Space | Space[])
/**
 * Something that is in the way.
 */
obstacle?: (Obstacle | Obstacle[])
/**
 * A way outdoors: where a terminal may lie, and what is drilled through.
 */
way_out?: (WayOut | WayOut[])
/**
 * A measured flow or pressure.
 */
reading?: (Reading | Reading[])
/**
 * Something seen or told.
 */
symptom?: (Symptom | Symptom[])
existing?: Existing
/**
 * Weather and use other than the reference case (calm, doors shut, fans on).
 */
scenario?: (Scenario | Scenario[])
/**
 * A finding that you override, with the reason that is printed beside it.
 */
override?: (Override | Override[])
/**
 * A value that was found different when built; laid over the design when the job is read as built.
 */
built?: (Built | Built[])
settings?: Settings
}
/**
 * Where the job is. Thin air at altitude weighs less and cools less; cold ducts sweat.
 */
export interface Site {
/**
 * Height above sea level.
 */
altitude?: (string | Stated1)
/**
 * Air temperature in the dwelling.
 */
indoor?: (string | Stated1)
/**
 * Outdoor air temperature of the reference case.
 */
outdoor?: (string | Stated1)
/**
 * Relative humidity in the room while the fan is judged.
 */
humidity?: (string | Stated1)
/**
 * File with the hourly weather of a year (a TMY3 file or a plain table), relative to the job file. It goes before `months` and `climate`.
 */
weather?: string
/**
 * Climate that the place is like, by a sort or by a station near it, where there is neither a weather file nor monthly means.
 */
climate?: ((string | string[]) | Stated2)
months?: Months
/**
 * What the wind comes over before it reaches the house.
 */
terrain?: ((string | string[]) | Stated2)
}
export interface Stated1 {
value: string
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
export interface Stated2 {
value: (string | string[])
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * Means of each month outdoors: always twelve values, from January to December. A bureau of weather publishes them for the nearest station.
 */
export interface Months {
/**
 * Mean air temperature.
 * 
 * @minItems 12
 * @maxItems 12
 */
temperature: [string, string, string, string, string, string, string, string, string, string, string, string]
/**
 * Mean relative humidity; or write `dew_point`.
 * 
 * @minItems 12
 * @maxItems 12
 */
humidity?: [string, string, string, string, string, string, string, string, string, string, string, string]
/**
 * Mean dew point; it goes before `humidity`.
 * 
 * @minItems 12
 * @maxItems 12
 */
dew_point?: [string, string, string, string, string, string, string, string, string, string, string, string]
/**
 * From the coldest to the warmest hour of a mean day: a difference, so 18 F are 10 K.
 * 
 * @minItems 12
 * @maxItems 12
 */
swing?: [string, string, string, string, string, string, string, string, string, string, string, string]
/**
 * Mean wind speed at the station.
 * 
 * @minItems 12
 * @maxItems 12
 */
wind?: [string, string, string, string, string, string, string, string, string, string, string, string]
}
/**
 * The dwelling around the rooms: what counts for whole-house rates, make-up air and combustion safety.
 */
export interface Dwelling {
/**
 * Kind of dwelling.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Conditioned floor area.
 */
floor_area?: (string | Stated1)
/**
 * Conditioned volume.
 */
volume?: (string | Stated1)
/**
 * Bedrooms.
 */
bedrooms?: ((number | string) | Stated3)
/**
 * Year built; older houses bring lead paint and asbestos into play.
 */
year_built?: ((number | string) | Stated4)
/**
 * How tight the envelope is, by what is known of it; a blower door says more.
 */
tightness?: ((string | string[]) | Stated2)
/**
 * Leakage of the envelope by a blower door, as air changes at 50 Pa.
 */
air_changes?: (string | Stated1)
/**
 * Leakage of the envelope by a blower door, as a flow at 50 Pa.
 */
leakage?: (string | Stated1)
/**
 * Whether anything in it burns fuel: gas, oil, wood. What burns is written as an appliance.
 */
burns_fuel?: ((boolean | string) | Stated5)
/**
 * Storeys above grade.
 */
storeys?: ((number | string) | Stated6)
/**
 * Height from one floor to the next.
 */
storey_height?: (string | Stated1)
/**
 * People who live in it.
 */
occupants?: ((number | string) | Stated7)
/**
 * Set-point of the heating.
 */
heating?: (string | Stated1)
/**
 * Whether the dwelling is cooled in summer.
 */
air_conditioning?: ((boolean | string) | Stated5)
/**
 * Set-point of the cooling; where it is written, the dwelling counts as cooled.
 */
cooling?: (string | Stated1)
/**
 * Set-point of a dehumidifier; leave it out where there is none.
 */
dehumidifier?: (string | Stated1)
/**
 * Relative humidity of its air on a winter day, away from the bath.
 */
humidity?: (string | Stated1)
/**
 * Moisture that people, cooking, plants and washing give off in a day, apart from showers and baths.
 */
moisture?: (string | Stated1)
ventilation?: Ventilation
prices?: Prices
/**
 * A fuel-burning appliance inside the dwelling.
 */
appliance?: (Appliance | Appliance[])
/**
 * Something else that blows air out of the dwelling.
 */
exhaust?: (Exhaust | Exhaust[])
}
export interface Stated3 {
value: (number | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
export interface Stated4 {
value: (number | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
export interface Stated5 {
value: (boolean | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
export interface Stated6 {
value: (number | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
export interface Stated7 {
value: (number | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * Ventilation of the whole dwelling, beside the fans of this job.
 */
export interface Ventilation {
/**
 * How it is ventilated; `none` where only leaks and windows do it.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Outdoor air while it runs.
 */
airflow?: (string | Stated1)
/**
 * Share of the heat that is recovered.
 */
recovery?: ((string | number) | Stated14)
/**
 * Share of the moisture that is recovered.
 */
moisture_recovery?: ((string | number) | Stated14)
/**
 * How long it runs in a day.
 */
hours_per_day?: (string | Stated1)
}
export interface Stated14 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * What energy costs, for each kWh, as plain numbers.
 */
export interface Prices {
/**
 * A kWh of electricity.
 */
electricity?: number
/**
 * A kWh of heat given to the rooms: the price of the fuel over the efficiency of the heating.
 */
heat?: number
/**
 * A kWh of heat taken out of the rooms: the price of electricity over the cooling's seasonal performance.
 */
cooling?: number
/**
 * Sign of the currency, for print.
 */
currency?: string
}
/**
 * A fuel-burning appliance. A strong fan can pull its flue gas into the room: have combustion safety tested by a licensed trade before exhaust is increased.
 */
export interface Appliance {
/**
 * Stable id; may be left out when there is only one.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
/**
 * How its flue gas leaves.
 */
draft?: ((string | string[]) | Stated2)
/**
 * How far below outdoors the pressure at it may go, as a positive number, where a programme or its maker sets that.
 */
limit?: (string | Stated1)
/**
 * Id of the room it stands in; left out when it stands in none of this job's rooms.
 */
place?: string
spillage?: Spillage
}
/**
 * A test of spillage at a fuel-burning appliance.
 */
export interface Spillage {
/**
 * Tested before or after the work.
 */
state?: ((string | string[]) | Stated2)
/**
 * What mirror or smoke at the draft hood showed once it was warm.
 */
result?: ((string | string[]) | Stated2)
/**
 * Day of the test.
 */
date?: string
}
/**
 * Another exhaust of the dwelling, such as a dryer or a range hood.
 */
export interface Exhaust {
/**
 * Stable id; may be left out when there is only one.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Air it takes out.
 */
airflow?: (string | Stated1)
/**
 * Length of its duct.
 */
length?: (string | Stated1)
/**
 * 90 degree elbows of its duct.
 */
elbows?: ((number | string) | Stated13)
/**
 * Id of a run of this job that it is joined to.
 */
joined_to?: string
}
export interface Stated13 {
value: (number | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * A room that is served.
 */
export interface Room {
/**
 * Stable id, kept through edits; may be left out when there is only one room.
 */
id?: string
/**
 * Name for people.
 */
name?: string
/**
 * What kind of room it is.
 */
kind: string
/**
 * Inside length.
 */
length?: (string | Stated1)
/**
 * Inside width.
 */
width?: (string | Stated1)
/**
 * Ceiling height.
 */
height?: (string | Stated1)
/**
 * Floor area, where length and width are not given.
 */
floor_area?: (string | Stated1)
/**
 * Volume, where the height is not given or the ceiling slopes.
 */
volume?: (string | Stated1)
/**
 * Whether its exhaust runs on demand or all the time.
 */
operation?: ((string | string[]) | Stated2)
/**
 * Airflow that somebody asks for beyond the rule book, such as a programme or a contract.
 */
asked?: (string | Stated1)
fixtures?: Fixtures
window?: Window
door?: Door
/**
 * Air temperature in the room.
 */
temperature?: (string | Stated1)
/**
 * Power of a heater of the room, beside that of the house, that is on while somebody showers; its warmth goes to the air.
 */
heater?: (string | Stated1)
/**
 * How much moister the air at the exhaust is than the mean of the room, both above the air that comes in; 1 is well mixed, less is a short cut past the moist air.
 */
mixing?: ((string | number) | Stated8)
/**
 * What walls and ceiling show to the air.
 */
finish?: ((string | string[]) | Stated2)
/**
 * Area of wall and ceiling that takes up moisture.
 */
finish_area?: (string | Stated1)
/**
 * Dry mass of towels, mats and curtains.
 */
textiles?: (string | Stated1)
use?: Use
/**
 * A surface where moisture may settle.
 */
surface?: (Surface | Surface[])
/**
 * Corners of its outline, in the order in which one walks round it; needed where it is no rectangle. It goes before `at`.
 */
plan?: ((string | [(string | [(string | 0), (string | 0)]), (string | [(string | 0), (string | 0)]), (string | [(string | 0), (string | 0)]), ...((string | [(string | 0), (string | 0)]))[]]) | Stated9)
/**
 * Where a rectangular room is: its corner with the least x and y.
 */
at?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * Along which axis its length lies, beside `at`; along x when left out.
 */
length_along?: ((string | string[]) | Stated2)
/**
 * Level of its finished floor.
 */
floor_level?: (string | Stated1)
/**
 * Whether lengths were taken between finished walls or between bare framing.
 */
measured?: ((string | string[]) | Stated2)
/**
 * Thickness of the boards on its walls.
 */
drywall?: (string | Stated1)
/**
 * Thickness of the boards under its ceiling, where it is another one.
 */
ceiling_drywall?: (string | Stated1)
/**
 * A wall of the room.
 */
wall?: (Wall | Wall[])
/**
 * A zone that is sprayed or splashed.
 */
wet?: (Wet | Wet[])
/**
 * Where a fixture or the door is.
 */
fixture_at?: (FixtureAt | FixtureAt[])
/**
 * Where the housing should be: `centre`, `over the shower`, `between fixture and door`, or a point such as `["4 ft", "3 ft"]`.
 */
wish?: ((string | [(string | 0), (string | 0)]) | Stated10)
}
/**
 * Fixtures in the room; write 0 for what is not there and leave out what you did not look at.
 */
export interface Fixtures {
/**
 * Toilets.
 */
toilets?: ((number | string) | Stated3)
/**
 * Showers.
 */
showers?: ((number | string) | Stated3)
/**
 * Tubs without jets.
 */
tubs?: ((number | string) | Stated3)
/**
 * Jetted tubs.
 */
jetted_tubs?: ((number | string) | Stated3)
}
/**
 * The window of the room.
 */
export interface Window {
/**
 * Whether there is one.
 */
present?: ((boolean | string) | Stated5)
/**
 * Glazed area.
 */
glazed?: (string | Stated1)
/**
 * Area that opens.
 */
openable?: (string | Stated1)
}
/**
 * The door of the room. A fan can only move the air that comes in somewhere.
 */
export interface Door {
/**
 * Width of the leaf.
 */
width?: (string | Stated1)
/**
 * Gap under the leaf above the finished floor.
 */
gap?: (string | Stated1)
/**
 * Free area of the joints round the leaf, the gap under it left out.
 */
joints?: (string | Stated1)
/**
 * Free area of a transfer grille.
 */
transfer?: (string | Stated1)
/**
 * Pressure that the air of the room may cost at the shut door; 3 Pa where nothing else is asked for.
 */
pressure?: (string | Stated1)
/**
 * Flow coefficient of the gap, where measured.
 */
coefficient?: ((string | number) | Stated17)
}
export interface Stated17 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
export interface Stated8 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * How the room is used in a day. Ask who showers, how long, and what they do with door and fan: habits decide as much as ducts.
 */
export interface Use {
/**
 * Showers in a day.
 */
showers?: ((number | string) | Stated7)
/**
 * Length of each shower.
 */
minutes?: (string | Stated1)
/**
 * Water of the shower head.
 */
water?: (string | Stated1)
/**
 * Temperature of that water.
 */
water_temperature?: (string | Stated1)
/**
 * Vapour given off while the shower runs, where it was measured or somebody states it; else it follows from the water.
 */
vapour?: (string | Stated1)
/**
 * Baths in a day.
 */
baths?: ((number | string) | Stated7)
/**
 * People in the room at once.
 */
people?: ((number | string) | Stated7)
/**
 * Pause between one shower and the next, where `at` is left out.
 */
gap?: (string | Stated1)
/**
 * When showers begin, one time for each (24 hours, or with am and pm).
 */
at?: (string | string[])
/**
 * What happens with the door.
 */
door?: ((string | string[]) | Stated2)
/**
 * How long after the shower the door opens, where it is opened after it.
 */
door_after?: (string | Stated1)
/**
 * Dry mass of laundry that is hung up to dry in the room in a day.
 */
drying?: (string | Stated1)
/**
 * When the fan is switched on, by habit.
 */
fan?: ((string | string[]) | Stated2)
/**
 * How long it is left on after the shower, by habit.
 */
leave_on?: (string | Stated1)
}
/**
 * A surface of the room where moisture may settle.
 */
export interface Surface {
/**
 * Stable id within the room; surface-1, surface-2, … when left out.
 */
id?: string
/**
 * What it is.
 */
kind: string
/**
 * Its area.
 */
area?: (string | Stated1)
/**
 * Insulation from its face to what is on the other side.
 */
insulation?: (string | Stated1)
/**
 * What is on the other side.
 */
other_side?: ((string | string[]) | Stated2)
/**
 * Power of a heater behind it, as behind a mirror.
 */
heated?: (string | Stated1)
/**
 * Glazing of a window.
 */
glazing?: ((string | string[]) | Stated2)
}
export interface Stated9 {
value: (string | [(string | [(string | 0), (string | 0)]), (string | [(string | 0), (string | 0)]), (string | [(string | 0), (string | 0)]), ...((string | [(string | 0), (string | 0)]))[]])
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
export interface Stated10 {
value: (string | [(string | 0), (string | 0)])
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * A wall of the room, from one corner of its outline to the next. Corners of a rectangle written by `at` count from the least x and y along x, against the clock.
 */
export interface Wall {
/**
 * Stable id within its list; numbered when left out.
 */
id?: string
/**
 * Number of the corner at which it begins, from 1.
 */
corner?: ((number | string) | Stated18)
/**
 * Whether the outdoors is behind it.
 */
outside?: ((boolean | string) | Stated5)
/**
 * What it must keep apart by a rule, if anything: a garage, another dwelling, a townhouse; local rules decide.
 */
separation?: ((string | string[]) | Stated2)
/**
 * Its layers, from the room.
 */
layers?: (Layer | Layer[])
}
export interface Stated18 {
value: (number | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * A layer of a wall or roof, in the order in which a drill from indoors meets it.
 */
export interface Layer {
/**
 * What it is made of.
 */
material?: ((string | string[]) | Stated2)
/**
 * Its thickness.
 */
thickness?: (string | Stated1)
}
/**
 * A zone that is sprayed or splashed: over a shower or tub. What hangs there must be listed for it.
 */
export interface Wet {
/**
 * Stable id within its list; numbered when left out.
 */
id?: string
/**
 * Its corner with the least x and y.
 */
at?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * Its extent along x and y.
 */
size?: ((string | [(string | 0), (string | 0)]) | Stated10)
}
/**
 * Where a fixture or the door is.
 */
export interface FixtureAt {
/**
 * Stable id within its list; numbered when left out.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Its middle; of a door, the middle of its opening.
 */
at?: ((string | [(string | 0), (string | 0)]) | Stated10)
}
/**
 * A grille in a room that is connected by a run to a fan elsewhere. The grille of an ordinary ceiling fan belongs to the fan and is not written.
 */
export interface Grille {
/**
 * Stable id; may be left out when there is only one grille.
 */
id?: string
/**
 * Id of the room; may be left out when there is only one room.
 */
room?: string
/**
 * Free area.
 */
free_area?: (string | Stated1)
/**
 * Size of the collar behind it.
 */
collar?: ((string | string[]) | Stated2)
/**
 * A measured or maker's point: flow at pressure loss.
 */
point?: (string | Stated1)
}
/**
 * A fan. Write what its label says, or name a library model; what is written here wins over the library.
 */
export interface Fan {
/**
 * Stable id; may be left out when there is only one fan.
 */
id?: string
/**
 * Name for people.
 */
name?: string
/**
 * Id of the room it hangs in. Left out for an inline or remote fan that is reached by a run; with one room and no run into the fan it is that room.
 */
room?: string
/**
 * Id of a fan in a library.
 */
model?: string
/**
 * How it moves air.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Rated flow, with the static pressure it was rated at where the label says; one or several.
 */
rated?: ((string | string[]) | Stated2)
/**
 * The whole curve: flow at static pressure, at standard air (1.2 kg/m3).
 * 
 * @minItems 2
 */
curve?: [string, string, ...(string)[]]
/**
 * For a motor that holds its flow: the flow it holds, up to its curve.
 */
holds_flow?: (string | Stated1)
/**
 * Speed setting as a share of full speed.
 */
speed?: ((string | number) | Stated11)
/**
 * Rated loudness.
 */
loudness?: (string | Stated1)
/**
 * Static pressure the loudness was rated at.
 */
loudness_at?: (string | Stated1)
/**
 * Electric power of the fan motor.
 */
power?: (string | Stated1)
/**
 * Outlet (collar).
 */
outlet?: ((string | string[]) | Stated2)
/**
 * Housing: length, width, height above the ceiling face.
 */
housing?: string
/**
 * On which side of the housing the collar is: at an end of its length, on its flank, or on top.
 */
outlet_side?: ((string | string[]) | Stated2)
/**
 * From the middle of that side to the centre of the collar; seen from above with the side turned to you, to the right is more than 0.
 */
outlet_offset?: (string | Stated1)
/**
 * Centre of the collar above the ceiling face.
 */
outlet_height?: (string | Stated1)
/**
 * How far the collar stands out from the housing.
 */
collar?: (string | Stated1)
/**
 * How far the flange of the housing reaches beyond its body, all round.
 */
flange?: (string | Stated1)
/**
 * Backdraft damper in the outlet.
 */
damper?: ((boolean | string) | Stated5)
/**
 * Longest equivalent duct length its maker allows.
 */
max_equivalent_length?: (string | Stated1)
/**
 * Listed for the space over a tub or shower.
 */
listed_wet?: ((boolean | string) | Stated5)
/**
 * Listed for continuous running.
 */
listed_continuous?: ((boolean | string) | Stated5)
/**
 * The rating on the label is a tested one, at a stated pressure.
 */
listed_rating?: ((boolean | string) | Stated5)
/**
 * Power of a heater in the same housing.
 */
heater?: (string | Stated1)
/**
 * Free note.
 */
notes?: string
/**
 * Whether it runs in the reference case; an idle second fan is `false`.
 */
running?: ((boolean | string) | Stated5)
/**
 * Whether it hangs over a tub or shower.
 */
over_tub_or_shower?: ((boolean | string) | Stated5)
/**
 * What switches it.
 */
control?: ((string | string[]) | Stated2)
settings?: FanSettings
/**
 * Where the middle of its housing is, where that is settled.
 */
at?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * How far its housing is turned against the clock, seen from above; at 0 its length lies along x and the collar looks to greater x (end) or greater y (flank).
 */
rotation?: (string | Stated1)
}
export interface Stated11 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * How the control of the fan is set. Read the dials; what cannot be read is left out.
 */
export interface FanSettings {
/**
 * Humidity at which it switches on.
 */
on_at?: (string | Stated1)
/**
 * How far below that it switches off, in points of humidity.
 */
band?: (string | Stated1)
/**
 * Rise above what it was before at which it switches on, in points of humidity.
 */
rise?: (string | Stated1)
/**
 * Time between two looks of the sensor.
 */
sampling?: (string | Stated1)
/**
 * Time in which the sensor follows 63 % of a step.
 */
lag?: (string | Stated1)
/**
 * Where the sensor is.
 */
sensor?: ((string | string[]) | Stated2)
/**
 * How long it runs on after what switched it on has ended.
 */
run_on?: (string | Stated1)
/**
 * Longest time it runs in one go.
 */
max_run?: (string | Stated1)
/**
 * Flow between uses, as a share of its full flow: always on, with a boost.
 */
low_flow?: ((string | number) | Stated14)
/**
 * Time after which an occupancy sensor takes the room as left.
 */
off_delay?: (string | Stated1)
}
/**
 * A point where runs meet.
 */
export interface Junction {
/**
 * Stable id; may be left out when there is only one junction.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
}
/**
 * A run of duct, in the direction of the air. Describe it by its sum (`length`, `elbows`), or part by part with [[run.part]], never both. What is written of the duct here holds for every part that does not say otherwise; pull, compression, roughness and wall go only to parts of the same kind of duct.
 */
export interface Run {
/**
 * Stable id; may be left out when there is only one run.
 */
id?: string
/**
 * Id of the fan, grille or junction where air enters; may be left out when there is one run and one fan.
 */
from?: string
/**
 * Id of the terminal, fan or junction where air leaves; may be left out when there is one run and at most one terminal.
 */
to?: string
/**
 * Kind of duct.
 */
duct?: ((string | string[]) | Stated2)
/**
 * Id of a duct in a library.
 */
duct_model?: string
/**
 * Inside size: round by its diameter, rectangular `3-1/4 x 10 in`, flat oval `oval 3 x 7 in`, several `3 in or 4 in`, or unknown.
 */
size?: ((string | string[]) | Stated2)
/**
 * How flexible duct was pulled.
 */
pulled?: ((string | string[]) | Stated2)
/**
 * Share of its length that flexible duct is pushed together, where measured.
 */
compression?: ((string | number) | Stated12)
/**
 * Wall roughness, where measured or stated.
 */
roughness?: (string | Stated1)
/**
 * What surrounds it.
 */
place?: ((string | string[]) | Stated2)
/**
 * Insulation around it.
 */
insulation?: (string | Stated1)
/**
 * Distance between supports.
 */
support_spacing?: (string | Stated1)
/**
 * Wall thickness of metal duct.
 */
wall?: (string | Stated1)
/**
 * Outside of its insulation.
 */
jacket?: ((string | string[]) | Stated2)
/**
 * Total length along the duct.
 */
length?: (string | Stated1)
/**
 * 90 degree elbows.
 */
elbows?: ((number | string) | Stated13)
/**
 * Length with its elbows counted in, as a maker's sheet or a book adds it up; in place of `length` and `elbows`.
 */
equivalent_length?: (string | Stated1)
/**
 * How the elbows are made.
 */
elbow_make?: ((string | string[]) | Stated2)
/**
 * Rise from start to end; a fall is negative.
 */
rise?: (string | Stated1)
/**
 * Whether the whole run was seen.
 */
seen?: ((boolean | string) | Stated5)
/**
 * Whether its joints are sealed.
 */
sealed?: ((boolean | string) | Stated5)
/**
 * Which way it falls: where water that settles in it runs to.
 */
slope?: ((string | string[]) | Stated2)
/**
 * Loose fill above the top of a buried duct.
 */
cover?: (string | Stated1)
/**
 * Share of its length where the insulation is squeezed flat between joists, straps or boards.
 */
compressed?: ((string | number) | Stated14)
/**
 * One part of the run.
 */
part?: (Part | Part[])
}
export interface Stated12 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * One part of a run, in the direction of the air. Exactly one of the keys beside `id` says what it is.
 */
export interface Part {
/**
 * Stable id within the run; part-1, part-2, … when left out.
 */
id?: string
piece?: Piece
elbow?: Elbow
transition?: Transition
damper?: Damper
crush?: Crush
trap?: Trap
other?: Other
}
/**
 * A straight piece or a length of flexible duct; what is not written is taken from the run.
 */
export interface Piece {
/**
 * Length along the duct.
 */
length?: (string | Stated1)
/**
 * Kind of duct.
 */
duct?: ((string | string[]) | Stated2)
/**
 * Id of a duct in a library.
 */
duct_model?: string
/**
 * Inside size: round by its diameter, rectangular `3-1/4 x 10 in`, flat oval `oval 3 x 7 in`, several `3 in or 4 in`, or unknown.
 */
size?: ((string | string[]) | Stated2)
/**
 * How flexible duct was pulled.
 */
pulled?: ((string | string[]) | Stated2)
/**
 * Share of its length that flexible duct is pushed together, where measured.
 */
compression?: ((string | number) | Stated12)
/**
 * Wall roughness, where measured or stated.
 */
roughness?: (string | Stated1)
/**
 * What surrounds it.
 */
place?: ((string | string[]) | Stated2)
/**
 * Insulation around it.
 */
insulation?: (string | Stated1)
/**
 * Distance between supports.
 */
support_spacing?: (string | Stated1)
/**
 * Wall thickness of metal duct.
 */
wall?: (string | Stated1)
/**
 * Outside of its insulation.
 */
jacket?: ((string | string[]) | Stated2)
/**
 * Which way it falls: where water that settles in it runs to.
 */
slope?: ((string | string[]) | Stated2)
/**
 * Loose fill above the top of a buried duct.
 */
cover?: (string | Stated1)
/**
 * Share of its length where the insulation is squeezed flat between joists, straps or boards.
 */
compressed?: ((string | number) | Stated14)
}
/**
 * An elbow.
 */
export interface Elbow {
/**
 * How it is made.
 */
make?: ((string | string[]) | Stated2)
/**
 * Angle.
 */
angle?: (string | Stated1)
/**
 * Centre-line radius over diameter.
 */
radius?: ((string | number) | Stated20)
/**
 * Inside size.
 */
size?: ((string | string[]) | Stated2)
}
export interface Stated20 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * A change of section.
 */
export interface Transition {
/**
 * Section it goes to.
 */
to?: ((string | string[]) | Stated2)
/**
 * Included angle of a cone.
 */
angle?: (string | Stated1)
/**
 * Abrupt step or cone.
 */
shape?: ((string | string[]) | Stated2)
}
/**
 * A damper in the run.
 */
export interface Damper {
/**
 * What kind.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Blade angle of a balancing damper; 0 is open.
 */
angle?: (string | Stated1)
/**
 * Inside size.
 */
size?: ((string | string[]) | Stated2)
}
/**
 * A crushed or kinked place.
 */
export interface Crush {
/**
 * Share of the area that is left.
 */
open?: ((string | number) | Stated21)
/**
 * Inside size.
 */
size?: ((string | string[]) | Stated2)
}
export interface Stated21 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * A trap or drain for the water that settles in the duct, at its low point. It takes no keys.
 */
export interface Trap {

}
/**
 * Anything else with a known loss.
 */
export interface Other {
/**
 * What it is, for people.
 */
name: string
/**
 * Flow at pressure loss.
 */
point: (string | Stated1)
}
/**
 * Where air leaves. Look at it first: a stuck flap or a clogged screen is the cheapest thing to find.
 */
export interface Terminal {
/**
 * Stable id; may be left out when there is only one terminal.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Id of a terminal in a library.
 */
model?: string
/**
 * Size of its collar.
 */
size?: ((string | string[]) | Stated2)
/**
 * Whether it has a flap.
 */
flap?: ((boolean | string) | Stated5)
/**
 * Whether the flap was seen to open fully.
 */
flap_opens?: ((boolean | string) | Stated5)
/**
 * Screen.
 */
screen?: ((string | string[]) | Stated2)
/**
 * Share of the screen that is clogged.
 */
clogged?: ((string | number) | Stated14)
/**
 * A measured or maker's point: flow at pressure loss.
 */
point?: (string | Stated1)
/**
 * Free area past the closed flap.
 */
leak?: (string | Stated1)
clear?: Clear
}
/**
 * Distances of the terminal to what it must keep away from.
 */
export interface Clear {
/**
 * Looked round: nothing to keep clear of is nearer than this, be it a window, door, air intake, vented soffit or the property line. What is written of one of them counts before it.
 */
seen?: (string | Stated1)
/**
 * To the nearest window or door that opens, or gravity air inlet; `none within 5 ft` where there is none nearer.
 */
opening?: (string | Stated1)
/**
 * How far above that opening the terminal is; below is negative.
 */
above_opening?: (string | Stated1)
/**
 * To the nearest mechanical air intake.
 */
intake?: (string | Stated1)
/**
 * How far above that intake the terminal is; below is negative.
 */
above_intake?: (string | Stated1)
/**
 * To the property line.
 */
property_line?: (string | Stated1)
/**
 * Whether it blows onto a walkway.
 */
onto_walkway?: ((boolean | string) | Stated5)
/**
 * Above grade.
 */
above_grade?: (string | Stated1)
/**
 * To the nearest vented soffit opening.
 */
soffit_vent?: (string | Stated1)
}
/**
 * A part of a floor or ceiling in which members run one way at one spacing. Where they change direction, as over a bearing wall, write one for each part.
 */
export interface Framing {
/**
 * Stable id; may be left out when there is only one.
 */
id?: string
/**
 * Kind of its members. Trusses, I-joists and other engineered members are never cut without their maker's chart.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Nominal size of sawn members; the actual one follows (PS 20).
 */
size?: ((string | string[]) | Stated2)
/**
 * Actual width and depth of a member, measured; it goes before `size`.
 */
actual?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * From centre to centre.
 */
spacing?: (string | Stated1)
/**
 * Direction in which the members run.
 */
direction?: ((string | string[]) | Stated2)
/**
 * Centre of the first member from the edge of this part with the least x or y, measured across the members.
 */
first?: (string | Stated1)
/**
 * Its corner with the least x and y.
 */
at?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * Its extent along x and y.
 */
extent?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * Level of the underside of its members; when left out they lie on the boards of the ceiling of the room below.
 */
bottom?: (string | Stated1)
/**
 * Where the two bearings of a member stand, along it: along x where the members run along x, else along y.
 */
bearings?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * Clear span of a member, where the bearings are not written.
 */
span?: (string | Stated1)
/**
 * What is above.
 */
above?: ((string | string[]) | Stated2)
/**
 * What it must keep apart by a rule, if anything: a garage, another dwelling, a townhouse; local rules decide.
 */
separation?: ((string | string[]) | Stated2)
/**
 * A member with another one of its size beside it, as under a wall or at an opening.
 */
double?: (Double | Double[])
}
/**
 * A member with another one of its size beside it.
 */
export interface Double {
/**
 * Number of the member from the first, from 1.
 */
member?: ((number | string) | Stated19)
/**
 * On which side of it the other one stands: towards the first member is before.
 */
side?: ((string | string[]) | Stated2)
}
export interface Stated19 {
value: (number | string)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * A space that a duct may pass through, beside the bays between members.
 */
export interface Space {
/**
 * Stable id; may be left out when there is only one.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Its corner with the least x, y and z.
 */
at?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
/**
 * Its extent along x, y and z.
 */
size?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
}
export interface Stated15 {
value: (string | [(string | 0), (string | 0), (string | 0)])
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * Something that is in the way, as a box.
 */
export interface Obstacle {
/**
 * Stable id; may be left out when there is only one.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Its corner with the least x, y and z.
 */
at?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
/**
 * Its extent along x, y and z.
 */
size?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
}
/**
 * A way outdoors: where a terminal may lie, what is drilled through, and what is near. Local codes and the authority on site decide where air may leave.
 */
export interface WayOut {
/**
 * Stable id; may be left out when there is only one.
 */
id?: string
/**
 * What it leads through.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Which way its outside looks.
 */
facing?: ((string | string[]) | Stated2)
/**
 * Corner with the least x, y and z of the window in which the middle of the terminal may lie, in the plane of its outside.
 */
at?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
/**
 * Extent of that window along x, y and z; 0 along the direction in which it looks.
 */
size?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
/**
 * Id of the terminal of this job that is or will be here.
 */
terminal?: string
/**
 * Where the middle of the terminal is in that window, where that is settled.
 */
terminal_at?: ((string | [(string | 0), (string | 0)]) | Stated10)
/**
 * Opening that is there already.
 */
opening?: ((string | string[]) | Stated2)
/**
 * What it must keep apart by a rule, if anything: a garage, another dwelling, a townhouse; local rules decide.
 */
separation?: ((string | string[]) | Stated2)
/**
 * Its layers, from indoors.
 */
layers?: (Layer | Layer[])
coursing?: Coursing
/**
 * Slope of a roof, from level.
 */
slope?: (string | Stated1)
/**
 * Slope of a roof as rise over run: 6 in 12 is 0.5. `slope` goes before it.
 */
pitch?: ((string | number) | Stated16)
/**
 * Cover of a roof.
 */
cover?: ((string | string[]) | Stated2)
/**
 * Something near that a terminal must keep away from.
 */
near?: (Near | Near[])
}
/**
 * Courses of masonry, so that a hole is laid out on them.
 */
export interface Coursing {
/**
 * From the middle of one bed joint to the next: 2-2/3 in for modular brick.
 */
course?: (string | Stated1)
/**
 * Thickness of the joints.
 */
joint?: (string | Stated1)
/**
 * From the middle of one head joint to the next in the same course.
 */
unit?: (string | Stated1)
/**
 * Level of the middle of one bed joint.
 */
bed?: (string | Stated1)
}
export interface Stated16 {
value: (string | number)
/**
 * `measured`, `label` or `assumed`; a plain value counts as written without saying how it was found.
 */
origin?: ("measured" | "label" | "assumed")
/**
 * The day it was found.
 */
on?: string
/**
 * Photo by name.
 */
photo?: string
/**
 * Free note.
 */
note?: string
}
/**
 * Something near a possible terminal that it must keep away from. Grade and snow line are flat boxes at their level; a property line is a flat box along it.
 */
export interface Near {
/**
 * Stable id within its list; numbered when left out.
 */
id?: string
/**
 * What it is.
 */
kind?: ((string | string[]) | Stated2)
/**
 * Whether a window or door opens.
 */
opens?: ((boolean | string) | Stated5)
/**
 * Its corner with the least x, y and z.
 */
at?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
/**
 * Its extent along x, y and z.
 */
size?: ((string | [(string | 0), (string | 0), (string | 0)]) | Stated15)
}
/**
 * A measured flow or pressure.
 */
export interface Reading {
/**
 * Stable id; may be left out when there is only one reading.
 */
id?: string
/**
 * Id of the room, grille, fan or terminal.
 */
at: string
/**
 * Measured flow.
 */
airflow?: (string | Stated1)
/**
 * Measured static pressure of the duct against the room.
 */
pressure?: (string | Stated1)
bag?: Bag
/**
 * How it was measured; a bag that is written says so itself.
 */
method?: ((string | string[]) | Stated2)
/**
 * Measured before or after the work.
 */
state?: ((string | string[]) | Stated2)
}
/**
 * A bag of known volume, held over a grille or outlet until it is full or empty.
 */
export interface Bag {
/**
 * What it holds.
 */
volume?: (string | Stated1)
/**
 * How long it took.
 */
time?: (string | Stated1)
}
/**
 * Something seen or told.
 */
export interface Symptom {
/**
 * Stable id; may be left out when there is only one symptom.
 */
id?: string
/**
 * What was seen or told.
 */
kind: string
/**
 * When it happens, in your words.
 */
when?: string
/**
 * In which season it happens; `any` for all year.
 */
season?: ((string | string[]) | Stated2)
/**
 * Whether it happens only with rain or in the hours after it.
 */
rain?: ((boolean | string) | Stated5)
/**
 * Whether it happens on the first mild days after frost.
 */
thaw?: ((boolean | string) | Stated5)
/**
 * Whether it goes with the use of the fan.
 */
fan_on?: ((boolean | string) | Stated5)
/**
 * On which side the duct is wet.
 */
wet?: ((string | string[]) | Stated2)
/**
 * Free note.
 */
note?: string
/**
 * Photo by name.
 */
photo?: string
}
/**
 * What is there and may have to stay when an old fan is swapped. Wiring is checked with the circuit dead; leave it to a licensed electrician where the local rules say so.
 */
export interface Existing {
/**
 * Opening in the ceiling: two sides.
 */
opening?: string
/**
 * Room above the ceiling face.
 */
depth?: (string | Stated1)
/**
 * Collar or duct that stays.
 */
collar?: ((string | string[]) | Stated2)
/**
 * Wire that is there.
 */
wire?: (string | Stated1)
/**
 * Whether the box has a neutral.
 */
neutral?: ((boolean | string) | Stated5)
/**
 * Whether one can get at it from above.
 */
access_above?: ((boolean | string) | Stated5)
/**
 * Whether the hidden duct has to stay.
 */
duct_stays?: ((boolean | string) | Stated5)
}
/**
 * Weather and use other than the reference case (calm, doors shut, fans on).
 */
export interface Scenario {
/**
 * Stable id; may be left out when there is only one scenario.
 */
id?: string
/**
 * Wind speed at the terminal.
 */
wind?: (string | Stated1)
/**
 * Which way the terminal faces.
 */
facing?: ((string | string[]) | Stated2)
/**
 * Outdoor temperature.
 */
outdoor?: (string | Stated1)
/**
 * Doors of the served rooms.
 */
doors?: ((string | string[]) | Stated2)
/**
 * Ids of fans that are off.
 */
off?: (string | string[])
}
/**
 * A finding that you override. The reason is printed with the finding.
 */
export interface Override {
/**
 * Id of the finding.
 */
finding: string
/**
 * Id of the subject, when only one of several is meant.
 */
subject?: string
/**
 * Why; printed with the finding.
 */
reason: string
}
/**
 * A value that was found different when built.
 */
export interface Built {
/**
 * Where, as a path by ids: `run.attic.length`, `fan.fan.model`, `run.attic.part.p2.elbow.angle`.
 */
at: string
/**
 * The value as it would stand in the file.
 */
value: string
/**
 * When it was seen.
 */
date?: string
/**
 * Photo by name.
 */
photo?: string
}
/**
 * How verdicts are drawn.
 */
export interface Settings {
/**
 * A check holds at this chance or more; 0.90 when left out.
 */
holds_at?: number
/**
 * A check fails at this chance or less; 0.10 when left out.
 */
fails_at?: number
/**
 * How many draws; 1024 when left out.
 */
draws?: number
}
