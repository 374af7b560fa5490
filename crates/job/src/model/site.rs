//! Where the job is, and its weather.

use dewpath_units::{Humidity, Length, Temperature, TemperatureDifference, Velocity};

use crate::category::category;
use crate::keys::Keys;
use crate::value::{Given, GivenChoice};

/// Where the job is. Thin air at altitude weighs less and cools less; cold ducts sweat.
#[derive(Debug, Clone, PartialEq, Default, Keys)]
#[table(name = "site", written = "[site]")]
pub struct Site {
    /// Height above sea level.
    #[key(example = "640 ft", signed, possible(-450.0, 6000.0), usual(-100.0, 4000.0))]
    pub altitude: Given<Length>,
    /// Air temperature in the dwelling.
    #[key(example = "68 F", possible(223.15, 333.15), usual(278.15, 313.15))]
    pub indoor: Given<Temperature>,
    /// Outdoor air temperature of the reference case.
    #[key(example = "20 F", possible(203.15, 333.15), usual(228.15, 323.15))]
    pub outdoor: Given<Temperature>,
    /// Relative humidity in the room while the fan is judged.
    #[key(example = "60 %", possible(0.0, 1.0), usual(0.1, 1.0))]
    pub humidity: Given<Humidity>,
    /// File with the hourly weather of a year (a TMY3 file or a plain table), relative to the job file. It goes
    /// before `months` and `climate`.
    #[key(example = "weather/town.csv")]
    pub weather: Option<String>,
    /// Climate that the place is like, by a sort or by a station near it, where there is neither a weather file nor monthly means.
    #[key(example = "mixed humid")]
    pub climate: GivenChoice<Climate>,
    /// Means of each month, where there is no weather file.
    #[key(
        example = { temperature = ["25 F", "28 F", "37 F", "48 F", "58 F", "67 F", "72 F", "70 F", "63 F", "52 F", "42 F", "31 F"] },
    )]
    pub months: Option<Months>,
    /// What the wind comes over before it reaches the house.
    #[key(example = "suburb")]
    pub terrain: GivenChoice<Terrain>,
}

category! {
    /// Climate, by a sort or by a station.
    pub enum Climate {
        /// Cool and damp all year, by the sea: a station of the Alaska Peninsula.
        CoolCoastal = "cool coastal",
        /// Cold winters, warm and humid summers: the Piedmont of North Carolina.
        MixedHumid = "mixed humid",
        /// Warm and humid most of the year: Miami.
        HotHumid = "hot humid",
        /// Warm and humid.
        AtlantaGa = "Atlanta GA",
        /// Hot and humid.
        AustinTx = "Austin TX",
        /// Mixed and humid.
        BaltimoreMd = "Baltimore MD",
        /// Cool and dry.
        BoiseId = "Boise ID",
        /// Cool and humid.
        BostonMa = "Boston MA",
        /// Cool and humid.
        BuffaloNy = "Buffalo NY",
        /// Cold and humid.
        BurlingtonVt = "Burlington VT",
        /// Warm and humid.
        CharlotteNc = "Charlotte NC",
        /// Cool and humid.
        ChicagoIl = "Chicago IL",
        /// Cool and dry.
        ColoradoSpringsCo = "Colorado Springs CO",
        /// Warm and humid.
        DallasTx = "Dallas TX",
        /// Cool and dry.
        DenverCo = "Denver CO",
        /// Cool and humid.
        DetroitMi = "Detroit MI",
        /// Very cold.
        DuluthMn = "Duluth MN",
        /// Cold and dry.
        HelenaMt = "Helena MT",
        /// Very hot and humid.
        HonoluluHi = "Honolulu HI",
        /// Hot and humid.
        HoustonTx = "Houston TX",
        /// Warm and dry.
        LasVegasNv = "Las Vegas NV",
        /// Warm and dry.
        LosAngelesCa = "Los Angeles CA",
        /// Very hot and humid.
        MiamiFl = "Miami FL",
        /// Mixed and humid.
        NewYorkNy = "New York NY",
        /// Hot and dry.
        PhoenixAz = "Phoenix AZ",
        /// Cool and humid.
        PittsburghPa = "Pittsburgh PA",
        /// Mild, by the sea.
        PortAngelesWa = "Port Angeles WA",
        /// Mild, by the sea.
        PortlandOr = "Portland OR",
        /// Mixed and humid.
        RaleighNc = "Raleigh NC",
        /// Warm, by the sea.
        SanFranciscoCa = "San Francisco CA",
        /// Mild, by the sea.
        SeattleWa = "Seattle WA",
        /// Mixed and humid.
        StLouisMo = "St Louis MO",
        /// Hot and humid.
        TampaFl = "Tampa FL",
        /// Hot and dry.
        TucsonAz = "Tucson AZ",
        /// Mixed and humid.
        WashingtonDc = "Washington DC",
    }
}

category! {
    /// What the wind comes over before it reaches the house.
    pub enum Terrain {
        /// Fields, water, a few single trees.
        Open = "open",
        /// Houses, trees, hedges.
        Suburb = "suburb",
        /// Tall buildings close by.
        City = "city",
    }
}

/// Means of each month outdoors: always twelve values, from January to December. A bureau of weather publishes
/// them for the nearest station.
#[derive(Debug, Clone, PartialEq, Keys)]
#[table(name = "months", written = "months = { … }")]
pub struct Months {
    /// Mean air temperature.
    #[key(
        required,
        example = ["25 F", "28 F", "37 F", "48 F", "58 F", "67 F", "72 F", "70 F", "63 F", "52 F", "42 F", "31 F"],
        possible(193.15, 333.15),
        usual(223.15, 313.15),
    )]
    pub temperature: [Temperature; 12],
    /// Mean relative humidity; or write `dew_point`.
    #[key(
        example = ["72 %", "70 %", "67 %", "65 %", "68 %", "71 %", "73 %", "75 %", "76 %", "73 %", "73 %", "75 %"],
        possible(0.0, 1.0),
        usual(0.15, 0.98),
    )]
    pub humidity: Option<[Humidity; 12]>,
    /// Mean dew point; it goes before `humidity`.
    #[key(
        example = ["17 F", "19 F", "26 F", "36 F", "47 F", "57 F", "62 F", "61 F", "54 F", "43 F", "33 F", "23 F"],
        possible(193.15, 313.15),
        usual(223.15, 301.15),
    )]
    pub dew_point: Option<[Temperature; 12]>,
    /// From the coldest to the warmest hour of a mean day: a difference, so 18 F are 10 K.
    #[key(
        example = ["15 F", "16 F", "18 F", "20 F", "20 F", "19 F", "18 F", "18 F", "19 F", "19 F", "16 F", "14 F"],
        possible(0.0, 45.0),
        usual(2.0, 25.0),
    )]
    pub swing: Option<[TemperatureDifference; 12]>,
    /// Mean wind speed at the station.
    #[key(
        example = ["9 mph", "9 mph", "10 mph", "10 mph", "8 mph", "7 mph", "7 mph", "6 mph", "7 mph", "8 mph", "9 mph", "9 mph"],
        possible(0.0, 60.0),
        usual(0.5, 15.0),
    )]
    pub wind: Option<[Velocity; 12]>,
}
