"""A room through a shower, written from textbooks for `test_shower_model.py` and `test_winter_duct_model.py`.

Air is well mixed. What it passes on goes by convection and by vapour; surfaces radiate to one another at their mean
temperature. Boards and tiles are conduction in finite volumes, a coat of paint and the board behind it diffusion in finite
volumes. Fog stays in the air as drops, which leave with it, settle, or evaporate.

Sources: moist air by psychrolib (ASHRAE Fundamentals 2017, ch. 1). Lewis relation, h_m = h_c / (c_p Le^(2/3)) with Le = 0.87:
Incropera, Fundamentals of Heat and Mass Transfer, ch. 6. Convection 4 W/(m² K), where still air (1.5 to 4) meets air that a
shower stirs (4 to 8), radiation 5.1 W/(m² K) and 0.13 m² K/W behind a wall: ISO 6946 and Incropera, from memory. A shower
warms the air as its water evaporates, by the same relation. Diffusion: permeability of gypsum board 2.7e-11 kg/(m s Pa), 640
kg/m³, slope of its sorption curve 0.0075 (mid range), latex paint 4e-10 kg/(m² s Pa) (2 to 6): EMPD literature
(Woods, Winkler & Christensen 2013, NREL/TP-5500-57441), from memory. Wet tiles carry 0.1 kg/m² after a shower, a wall no
more before it runs: judgement, 0.05 to 0.15.
"""

from dataclasses import dataclass

import numpy
import psychrolib
from scipy.integrate import solve_ivp

psychrolib.SetUnitSystem(psychrolib.SI)

MASS_RATIO = 0.621945
LATENT_J_KG = 2.45e6
CONVECTION = 4.0
RADIATION = 5.1
# ISO 6946 has 7.7 for both together, for faces opposite to others at the temperature of the air.
RADIATION_TO_AIR = 7.7 - CONVECTION
BEHIND_RSI = 0.13
LEWIS_FACTOR = 0.87 ** (2 / 3)
FILM_KG_M2 = 0.1
# Film below which what is left shrinks with itself, so that it ends at nothing without a corner, kg/m².
LAST_FILM_KG_M2 = 5e-6
# How fast vapour over saturation becomes fog, and how fast drops of 10 µm (3 mm/s) settle from 2.4 m, 1/s.
FOGS_PER_S, SETTLES_PER_S = 0.5, 0.003 / 2.4
# One person who washes: 60 to 120 g/h (IEA SHC solar housing handbook) and 70 W (common practice).
PERSON_KG_S, PERSON_W = 0.09 / 3600.0, 70.0

BOARD = dict(thickness=0.0127, conductivity=0.16, capacity=640.0 * 1090.0)
TILE = dict(thickness=0.008, conductivity=1.0, capacity=2300.0 * 840.0)
GLASS = dict(thickness=0.005, conductivity=1.0, capacity=2500.0 * 840.0)
PERMEABILITY, SORPTION_SLOPE, LATEX = 2.7e-11, 640.0 * 0.0075, 4e-10

TABLE_STEP_K = 0.02
TABLE_C = numpy.arange(-45.0, 70.0, TABLE_STEP_K)
TABLE_PA = numpy.array([psychrolib.GetSatVapPres(t) for t in TABLE_C])


def saturation_pa(t_c):
    """psychrolib's saturation pressure, over ice below the triple point, from a table of fiftieths of a kelvin."""
    return numpy.interp(t_c, TABLE_C, TABLE_PA)


def saturated(t_c, pressure_pa):
    vapour = saturation_pa(t_c)
    return MASS_RATIO * vapour / (pressure_pa - vapour)


def heat_capacity(w):
    return 1006.0 + 1860.0 * w


# From a surface to the air, kg/(m² s) for each kg/kg, in air with 10 g/kg.
TRANSFER = CONVECTION / (heat_capacity(0.01) * LEWIS_FACTOR)


@dataclass
class Surface:
    """One surface: area, layers from its face, resistance from its face to what is behind it, water after a shower."""

    area_m2: float
    layers: list
    resistance_rsi: float
    is_wetted: bool = False

    def __post_init__(self):
        cells = [(layer, layer["thickness"] / 3) for layer in self.layers for _ in range(3)]
        halves = numpy.array([d / 2 / layer["conductivity"] for layer, d in cells])
        self.stores_j_m2k = numpy.array([d * layer["capacity"] for layer, d in cells])
        self.between = 1.0 / (halves[:-1] + halves[1:])
        self.face = 1.0 / halves[0]
        inside = sum(layer["thickness"] / layer["conductivity"] for layer in self.layers)
        self.behind = 1.0 / (halves[-1] + max(self.resistance_rsi - inside, 0.0) + BEHIND_RSI)
        self.cells = len(cells)


@dataclass
class Happening:
    """What stays as it is from one time to the next, flows in m³/s."""

    start_s: float
    end_s: float
    exhaust: float
    swap: float
    shower: bool = False
    wets: bool = False


@dataclass
class Course:
    """State of the room at the times of the integration; film on the mirror in kg/m²."""

    time_s: numpy.ndarray
    ratio: numpy.ndarray
    temperature_c: numpy.ndarray
    humidity: numpy.ndarray
    mirror: numpy.ndarray


class Room:
    """A room with its lining (walls and ceiling), tiles and mirror; the last surface is the mirror."""

    def __init__(
        self, altitude_m, volume_m3, house_c, house_rh, vapour_kg_s, water_c, surfaces, painted=False, radiation_to_air=False
    ):
        # What surfaces give to the air and to one another.
        self.to_air = CONVECTION + RADIATION_TO_AIR if radiation_to_air else CONVECTION
        self.to_others = 0.0 if radiation_to_air else RADIATION
        self.pressure_pa = psychrolib.GetStandardAtmPressure(altitude_m)
        self.house_c = house_c
        self.house_w = psychrolib.GetHumRatioFromRelHum(house_c, house_rh, self.pressure_pa)
        # Dry air in a cubic metre.
        self.density = 1.0 / psychrolib.GetMoistAirVolume(house_c, self.house_w, self.pressure_pa)
        self.air_kg = volume_m3 * self.density
        self.vapour_kg_s, self.water_c = vapour_kg_s, water_c
        self.surfaces = surfaces
        self.areas = numpy.array([s.area_m2 for s in surfaces])
        self.inward = numpy.array([s.face for s in surfaces])
        self.ends = numpy.cumsum([0] + [s.cells for s in surfaces])
        # Paint, then the board in eight cells that grow inwards; kg/(m² s Pa) and kg/m² for each share of humidity.
        cells = BOARD["thickness"] * 2.0 ** numpy.arange(8) / (2**8 - 1) if painted else numpy.zeros(0)
        halves = cells / 2 / PERMEABILITY
        self.takes = 1.0 / (halves[:-1] + halves[1:])
        film = TRANSFER * MASS_RATIO / self.pressure_pa
        self.paint = 1.0 / (1.0 / film + 1.0 / LATEX + halves[0]) if painted else 0.0
        self.sorbs = SORPTION_SLOPE * cells

    def split(self, y):
        """Humidity ratio, fog, air temperature, temperatures of cells, films, humidities of the board."""
        films = 3 + self.ends[-1]
        return y[0], y[1], y[2], y[3:films], y[films : films + len(self.surfaces)], y[films + len(self.surfaces) :]

    def start(self):
        w, t = self.house_w, self.house_c
        rh = psychrolib.GetRelHumFromHumRatio(t, w, self.pressure_pa)
        return numpy.concatenate([[w, 0.0], numpy.full(1 + self.ends[-1], t), numpy.zeros(len(self.surfaces)),
                                  numpy.full(len(self.sorbs), rh)])

    def shower_heat_w(self, w, t):
        """Convection beside evaporation from the same water, by the Lewis relation."""
        drives = saturated(self.water_c, self.pressure_pa) - w
        return self.vapour_kg_s * heat_capacity(w) * LEWIS_FACTOR * (self.water_c - t) / drives

    def rates(self, y, now: Happening):
        w, fog, t, cells, films, board = self.split(y)
        dcells, dfilms = numpy.zeros(len(cells)), numpy.zeros(len(films))
        # In place of what is drawn off comes air of the dwelling.
        through = self.density * (now.exhaust + now.swap)
        gain = through * (self.house_w - w)
        dfog = -through / self.air_kg * fog - SETTLES_PER_S * fog
        cp = heat_capacity(w)
        heat = through * cp * (self.house_c - t)
        if now.shower:
            gain += self.vapour_kg_s + PERSON_KG_S
            heat += self.shower_heat_w(w, t) + PERSON_W
        # Fog forms over saturation; below it drops evaporate.
        over = w - saturated(t, self.pressure_pa)
        forms = FOGS_PER_S * (over if over > 0.0 else max(over, -fog))
        dfog += forms
        gain -= forms * self.air_kg
        heat += forms * self.air_kg * LATENT_J_KG
        # Faces, from the cells behind them: what comes and goes at a face is known up to its own temperature.
        firsts = cells[self.ends[:-1]]
        radiant = float(self.areas @ firsts) / self.areas.sum()
        faces = firsts
        # Water that is left limits what evaporates.
        left = -numpy.expm1(-numpy.maximum(films, 0.0) / LAST_FILM_KG_M2)
        for _ in range(3):
            condenses = TRANSFER * (w - saturated(faces, self.pressure_pa))
            condenses = numpy.where(condenses < 0.0, condenses * left, condenses)
            given = self.to_air * t + self.to_others * radiant + LATENT_J_KG * condenses + self.inward * firsts
            faces = given / (self.to_air + self.to_others + self.inward)
        for j, s in enumerate(self.surfaces):
            here = slice(self.ends[j], self.ends[j + 1])
            flux = numpy.empty(s.cells + 1)
            flux[0] = s.face * (faces[j] - firsts[j])
            flux[1:-1] = s.between * (cells[here][:-1] - cells[here][1:])
            flux[-1] = s.behind * (cells[here][-1] - self.house_c)
            dcells[here] = (flux[:-1] - flux[1:]) / s.stores_j_m2k
        # What a wall cannot hold runs off it.
        dfilms[:] = numpy.where((films >= FILM_KG_M2) & (condenses > 0.0), 0.0, condenses)
        gain -= float(self.areas @ condenses)
        heat -= self.to_air * float(self.areas @ (t - faces))
        dboard = numpy.zeros(len(board))
        if len(board):
            inner = saturation_pa(firsts[0])
            vapour = w * self.pressure_pa / (MASS_RATIO + w)
            first = self.paint * (vapour - board[0] * inner)
            flow = numpy.concatenate([[first], self.takes * inner * (board[:-1] - board[1:]), [0.0]])
            dboard = (flow[:-1] - flow[1:]) / self.sorbs
            gain -= self.areas[0] * flow[0]
        return numpy.concatenate([[gain / self.air_kg, dfog, heat / (self.air_kg * cp)], dcells, dfilms, dboard])

    def course(self, happenings):
        """Follows the room through what happens, one integration for each."""
        y, times, states = self.start(), [], []
        for now in happenings:
            if now.wets:
                films = self.split(y)[4]
                for j, s in enumerate(self.surfaces):
                    if s.is_wetted:
                        films[j] = max(films[j], FILM_KG_M2)
            solved = solve_ivp(
                lambda _, y: self.rates(y, now), (now.start_s, now.end_s), y, method="LSODA", rtol=1e-5, atol=1e-8,
                max_step=max(30.0, 0.01 * (now.end_s - now.start_s)),
            )
            assert solved.success, solved.message
            y = solved.y[:, -1].copy()
            times.append(solved.t)
            states.append(solved.y)
        time, state = numpy.concatenate(times), numpy.concatenate(states, axis=1)
        w, _, t, _, films, _ = self.split(state)
        humidity = w * self.pressure_pa / (MASS_RATIO + w) / saturation_pa(t)
        return Course(time, w, t, humidity, films[-1])


def from_when_below(time, values, limit, after):
    """How long after a moment a course lies under a limit for good; none where it does not."""
    later = time >= after
    time, values = time[later], values[later]
    over = numpy.flatnonzero(values > limit)
    if len(over) == 0:
        return 0.0
    i = over[-1]
    if i + 1 == len(time):
        return None
    return time[i] + (time[i + 1] - time[i]) * (values[i] - limit) / (values[i] - values[i + 1]) - after
