using System.Collections.Frozen;

namespace Outcomes.Synthetic.Export;

/// <summary>
/// What the invented department's own software writes for a dictionary value. The mapping files say the same the other way
/// round, and a test holds the two together.
/// </summary>
internal static class LocalCodes
{
    public const string NotApplicable = "n/a";

    /// <summary>What the software writes for a question that the form did not have yet: it did not arise.</summary>
    public const string NotAsked = "not on the form";

    public static string YesNo(bool value) => value ? "Y" : "N";

    public static readonly FrozenDictionary<string, string> HourBand = Codes(("08-18", "Day"), ("18-22", "Evening"), ("22-08", "Night"));

    public static readonly FrozenDictionary<string, string> Location = Codes(
        ("ed", "Emergency department"), ("icu", "Intensive care"), ("ward", "Ward"), ("theatre", "Theatre"), ("recovery", "Recovery"),
        ("imaging", "Imaging"));

    public static readonly FrozenDictionary<string, string> Urgency = Codes(
        ("immediate_arrest_or_periarrest", "Arrest or about to"), ("emergency", "Emergency"), ("urgent", "Urgent"), ("planned", "Planned"));

    public static readonly FrozenDictionary<string, string> Sex = Codes(("female", "F"), ("male", "M"));

    public static readonly FrozenDictionary<string, string> Indication = Codes(
        ("low_consciousness", "Low consciousness"), ("hypoxaemia", "Hypoxaemia"), ("ineffective_ventilation", "Ineffective ventilation"),
        ("hypercapnia", "Hypercapnia"), ("impending_obstruction", "Obstruction threatening"), ("existing_obstruction",
            "Obstruction present"), ("haemodynamic", "Circulation"), ("combative", "Agitation"), ("cardiac_arrest", "Cardiac arrest"),
        ("planned_procedure", "Planned procedure"));

    public static readonly FrozenDictionary<string, string> Infection = Codes(
        ("confirmed", "Confirmed"), ("suspected", "Suspected"), ("not_suspected", "Not suspected"));

    public static readonly FrozenDictionary<string, string> Precaution = Codes(
        ("airborne", "Airborne"), ("droplet", "Droplet"), ("contact", "Contact"), ("standard", "Standard"), ("none", "None"));

    public static readonly FrozenDictionary<string, string> Checklist = Codes(
        ("completed", "Completed"), ("partly", "Partly"), ("available_not_used", "Not used"), ("not_available", "Not available"));

    public static readonly FrozenDictionary<string, string> Help = Codes(
        ("before", "Before"), ("after_failed_attempt", "After a failed attempt"), ("no", "No"));

    public static readonly FrozenDictionary<string, string> Plan = Codes(
        ("A", "Plan A"), ("B", "Plan B"), ("C", "Plan C"), ("D", "Plan D"), ("woken", "Woken"), ("none", "None"));

    public static readonly FrozenDictionary<string, string> Membrane = Codes(
        ("palpated", "Felt"), ("ultrasound_marked", "Marked by ultrasound"), ("sought_not_found", "Not found"),
        ("not_done", "Not looked for"));

    public static readonly FrozenDictionary<string, string> Position = Codes(
        ("ramped", "Ramped"), ("head_up", "Head up"), ("sitting", "Sitting"), ("sniffing_flat", "Flat, head extended"),
        ("supine_flat", "Flat"));

    public static readonly FrozenDictionary<string, string> PreoxMethod = Codes(
        ("non_rebreather", "Reservoir mask"), ("tight_facemask_circuit", "Tight mask"), ("niv_or_cpap", "NIV or CPAP"),
        ("hfno", "High flow"), ("bvm_assisted", "Bag and mask"));

    public static readonly FrozenDictionary<string, string> Drug = Codes(
        ("ketamine", "Ketamine"), ("propofol", "Propofol"), ("etomidate", "Etomidate"), ("thiopental", "Thiopental"),
        ("midazolam", "Midazolam"), ("rocuronium", "Rocuronium"), ("suxamethonium", "Suxamethonium"), ("none", "None"));

    public static readonly FrozenDictionary<string, string> Sequence = Codes(
        ("rsi", "Rapid"), ("modified", "Modified rapid"), ("delayed_sequence", "Delayed"), ("no_drugs", "No drugs"));

    public static readonly FrozenDictionary<string, string> Vasopressor = Codes(
        ("none", "None"), ("infusion", "Infusion"), ("prophylactic_bolus", "Bolus"));

    public static readonly FrozenDictionary<string, string> PlanResult = Codes(
        ("not_used", "Not used"), ("succeeded", "Succeeded"), ("failed", "Failed"));

    public static readonly FrozenDictionary<string, string> FinalAirway = Codes(
        ("tube", "Tube"), ("sga", "Supraglottic"), ("facemask", "Facemask"), ("fona_scalpel", "Front of neck, scalpel"), ("none", "None"));

    public static readonly FrozenDictionary<string, string> Co2 = Codes(
        ("waveform", "Waveform"), ("colorimetric", "Colour change"), ("none", "None"));

    public static readonly FrozenDictionary<string, string> Oesophageal = Codes(
        ("none", "No"), ("recognised_immediately", "Seen at once"), ("delayed", "Seen late"));

    public static readonly FrozenDictionary<string, string> Complication = Codes(
        ("none", "None"), ("aspiration", "Aspiration"), ("main_bronchus", "Main bronchus"), ("arrhythmia", "Arrhythmia"),
        ("dental", "Dental"), ("bradycardia_lt40", "Pulse below 40"), ("awareness", "Awareness"), ("drug_error", "Drug error"),
        ("equipment_failure", "Equipment failed"));

    public static readonly FrozenDictionary<string, string> Recorder = Codes(
        ("operator", "Operator"), ("assistant", "Assistant"), ("observer", "Observer"));

    public static readonly FrozenDictionary<string, string> Technique = Codes(
        ("direct", "Direct laryngoscopy"), ("video", "Videolaryngoscopy"), ("flexible_scope", "Flexible scope"),
        ("sga_insertion", "Supraglottic airway"), ("facemask", "Facemask"), ("fona", "Front of neck"));

    public static readonly FrozenDictionary<string, string> Device = Codes(
        ("direct", "Direct laryngoscope"), ("video", "Videolaryngoscope"), ("flexible_scope", "Flexible scope"),
        ("supraglottic", "Supraglottic airway"), ("facemask", "Facemask"), ("fona_set", "Front-of-neck set"));

    public static readonly FrozenDictionary<string, string> Blade = Codes(("standard", "Standard"), ("hyperangulated", "Hyperangulated"));

    public static readonly FrozenDictionary<string, string> Introducer =
        Codes(("bougie", "Bougie"), ("stylet", "Stylet"), ("none", "None"));

    public static readonly FrozenDictionary<string, string> Grade = Codes(
        ("consultant_attending", "Consultant"), ("senior_trainee", "Senior trainee"),
        ("junior_trainee", "Junior trainee"), ("other", "Other"));

    public static readonly FrozenDictionary<string, string> Specialty = Codes(
        ("anaesthesia", "Anaesthesia"), ("icm", "Intensive care"), ("em", "Emergency medicine"), ("medicine", "Medicine"));

    public static readonly FrozenDictionary<string, string> Outcome = Codes(
        ("success", "Success"), ("no_view", "No view"), ("cannot_pass_tube", "Tube would not pass"), ("oesophageal", "Oesophageal"),
        ("desaturation_abandoned", "Stopped for saturation"), ("vomit_soiling", "Soiling"),
        ("equipment", "Equipment"), ("other", "Failed"));

    public static readonly FrozenDictionary<string, string> Change = Codes(
        ("operator", "Operator"), ("device", "Device"), ("blade", "Blade"), ("introducer", "Introducer"), ("position", "Position"));

    public static readonly FrozenDictionary<string, string> Co2After = Codes(
        ("sustained", "Sustained"), ("not_sustained", "Not sustained"), ("not_used", "Not used"));

    public static readonly FrozenDictionary<string, string> Mallampati =
        Codes(("1", "I"), ("2", "II"), ("3", "III"), ("4", "IV"), ("not_assessable", "Could not be seen"));

    public static readonly FrozenDictionary<string, string> DrugsReady = Codes(
        ("induction", "Induction"), ("relaxant", "Relaxant"), ("vasopressor", "Vasopressor"),
        ("maintenance_sedation", "Sedation to follow"), ("flush", "Flush"), ("none", "None"));

    public static readonly FrozenDictionary<string, string> BreachStage =
        Codes(("donning", "Putting on"), ("procedure", "In the room"), ("doffing", "Taking off"));

    public static readonly FrozenDictionary<string, string> Check =
        Codes(("completed", "Completed"), ("partly", "Partly"), ("not_done", "Not done"));

    public static readonly FrozenDictionary<string, string> Clamped = Codes(
        ("always", "Each time"), ("not_always", "Not each time"), ("never", "Never"), ("no_disconnection", "No disconnection"));

    public static readonly FrozenDictionary<string, string> MaskReason = Codes(
        ("hypoxaemia", "Hypoxaemia"), ("failed_attempt", "Failed attempt"), ("severe_acidosis", "Severe acidosis"));

    private static FrozenDictionary<string, string> Codes(params (string Value, string Text)[] codes) =>
        codes.ToFrozenDictionary(code => code.Value, code => code.Text, StringComparer.Ordinal);
}
