//! What is said of safety.

use dewpath_message::messages;

messages! {
    enum Beware {
        Authority = "caution.authority",
        Wiring = "caution.wiring",
        Combustion = "caution.combustion",
        Structure = "caution.structure",
        Attic = "caution.attic",
        Ladder = "caution.ladder",
        Silica = "caution.silica",
        Lead = "caution.lead",
        Asbestos = "caution.asbestos",
        PermitMechanical = "caution.permit.mechanical",
        PermitElectrical = "caution.permit.electrical",
        PermitAlarms = "caution.permit.alarms",
        PermitInstructions = "caution.permit.instructions",
        PermitAirflowPosted = "caution.permit.airflow-posted",
        PermitCompletion = "caution.permit.completion",
        FireSeparation = "caution.fire-separation",
    }
}
