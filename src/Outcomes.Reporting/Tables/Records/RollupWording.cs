namespace Outcomes.Reporting.Tables;

/// <summary>What each column of a record means that is counted from its attempts.</summary>
internal static class RollupWording
{
    /// <summary>What it holds, and its UCUM unit where it has one; an unknown column is an error.</summary>
    public static (string Meaning, string? Unit) Describe(string column) => column switch
    {
        "as_of" => ("Date up to which the data are known: the same for every record of a run.", null),
        "attempt_rows" => ("Number of attempts that are recorded one by one, rescue included.", null),
        "attempts_contiguous" => ("Whether the attempts are numbered from 1 without a gap.", null),
        "intubation_attempts" => (
            "Attempts at intubation: direct, video, flexible scope or through a supraglottic airway. " + IfAny("technique"), null),
        "attempt_successes" => ("Attempts at intubation that succeeded. " + IfAny("technique or outcome"), null),
        "attempt_path" => (
            "Plan and outcome of each attempt in order, such as A-A-B+: + is success, - is none, ? is not known.", null),
        "attempts_duration_s" => ("Durations of all attempts together. " + IfAny("duration"), "s"),
        "other_plan_start_s" => ("Start of the first attempt of plan B, C or D, after induction.", "s"),
        "other_plan_airway_s" => (
            "When an attempt of plan B, C or D first provided the airway, after induction: its end, or the start of a facemask.", "s"),
        "attempt_spo2_min" => ("Lowest saturation of all attempts.", "%"),
        "attempt_oesophageal" => ("Whether the tube was in the oesophagus after any attempt.", null),
        "success_within_two" => ("Whether the first or second attempt at intubation succeeded.", null),
        ['p', 'l', 'a', 'n', '_', var plan, '_', .. var what] when what == "attempts" =>
            ($"Attempts of plan {char.ToUpperInvariant(plan)}. {IfAny("plan")}", null),
        ['p', 'l', 'a', 'n', '_', var plan, '_', .. var what] when what == "successes" =>
            ($"Attempts of plan {char.ToUpperInvariant(plan)} that succeeded. {IfAny("plan or outcome")}", null),
        _ => throw new InvalidOperationException($"The column {column} has no description."),
    };

    private static string IfAny(string what) => $"Null where the {what} of any attempt is missing.";
}
