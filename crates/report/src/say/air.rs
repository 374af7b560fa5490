//! What is said of air that is delivered, required, measured.

use dewpath_message::messages;
use dewpath_message::slot::{AirflowLS, ChanceRatio, Name, PressurePa, Reference, TimeH};

messages! {
    struct AirflowDelivered {
        room: Name,
        flow: AirflowLS,
        required: AirflowLS,
        chance: Option<ChanceRatio>,
        clearing: Option<TimeH>,
    } = AirflowDeliveredKey {
        Holds = "airflow.delivered.holds",
        Fails = "airflow.delivered.fails",
        Unknown = "airflow.delivered.unknown",
        Memory = "airflow.delivered.memory",
    }

    struct AirflowDeliveredMeasured {
        room: Name,
        flow: AirflowLS,
        required: AirflowLS,
        expected: AirflowLS,
    } = "airflow.delivered.measured"

    struct AirflowDeliveredMeasuredAlone {
        room: Name,
        flow: AirflowLS,
        expected: AirflowLS,
    } = "airflow.delivered.measured-alone"

    struct AirflowDeliveredNothingRequired {
        room: Name,
        flow: AirflowLS,
    } = "airflow.delivered.nothing-required"

    struct AirflowNone { room: Name } = AirflowNoneKey {
        NoFanData = "airflow.delivered.no-fan-data",
        NoExhaust = "airflow.delivered.no-exhaust",
    }

    struct AirflowDeliveredIdle { room: Name } = "airflow.delivered.idle"

    struct AirflowRequired { room: Name, book: Reference } = AirflowRequiredKey {
        NoBook = "airflow.required.no-book",
        Waiting = "airflow.required.waiting",
        GuidanceOnly = "airflow.required.guidance-only",
        NotInBook = "airflow.required.not-in-book",
    }

    struct AirflowMeasured {
        flow: AirflowLS,
        required: AirflowLS,
        chance: ChanceRatio,
    } = AirflowMeasuredKey {
        Holds = "airflow.measured.holds",
        HoldsNarrowly = "airflow.measured.holds-narrowly",
        Fails = "airflow.measured.fails",
        FailsNarrowly = "airflow.measured.fails-narrowly",
        Memory = "airflow.measured.memory",
        Near = "airflow.measured.near",
    }

    struct AirflowMeasuredBefore { flow: AirflowLS, room: Name } = "airflow.measured.before"

    struct AirflowModel { flow: AirflowLS, model: AirflowLS } = AirflowModelKey {
        Less = "airflow.model.less",
        More = "airflow.model.more",
        Agrees = "airflow.model.agrees",
    }

    struct AirflowRating {
        pressure: PressurePa,
        required: AirflowLS,
        rated: Option<AirflowLS>,
    } = AirflowRatingKey {
        Holds = "airflow.rating.holds",
        Unknown = "airflow.rating.unknown",
        Near = "airflow.rating.near",
        Short = "airflow.rating.short",
    }
}
