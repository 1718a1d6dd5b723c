using System.Globalization;
using System.Text;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Page;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>docs/measures.md: every shipped measure in the order of pages, made from the catalogue.</summary>
internal static class MeasuresPage
{
    private const string Head = """
        # The shipped measures

        Every measure in the order of pages: what it is called, whom it is asked of, which way is better, and what an unknown answer
        counts as. [definitions.md](definitions.md) compares each with its published source, and `outcomes describe ID` prints the whole
        definition with examples. This page is made from the catalogue, and a test holds it to that. For audit, teaching and improvement;
        never a target for one case.

        """;

    /// <summary>The parts of the conditions, as people say them; another part stands as it is written.</summary>
    private static readonly Dictionary<string, string> Words = new()
    {
        ["true"] = "every record",
        ["emergency"] = "adult emergencies",
        ["child_emergency"] = "emergencies under 16 years",
        ["age_years >= 1"] = "1 year or older",
        ["attempt1_outcome = 'success'"] = "first attempt succeeded",
        ["not cardiac_arrest_before"] = "not in arrest before induction",
        ["infection_suspected"] = "infection suspected or confirmed",
        ["first_airway_is_intubation_attempt"] = "first airway attempt an intubation",
        ["intubation_attempted"] = "intubation attempted",
        ["tube_placed"] = "tracheal tube placed",
        ["tube_or_front_of_neck"] = "tube placed by mouth, nose or neck",
        ["left_plan_a"] = "went beyond plan A",
        ["(plan_b_succeeded or plan_c_succeeded or plan_d_succeeded)"] = "another plan succeeded",
        ["plan_a_used"] = "plan A used",
        ["plan_b_used"] = "plan B used",
        ["plan_c_used"] = "plan C used",
        ["plan_d_used"] = "plan D used",
        ["front_of_neck_access"] = "front-of-neck access",
        ["attempts >= 2"] = "two attempts or more",
        ["spo2_pre >= 90"] = "saturation 90 % or more at induction",
        ["spo2_pre >= 80"] = "saturation 80 % or more at induction",
        ["spo2_pre > 0"] = "saturation measurable at induction",
        ["sbp_pre >= 90"] = "systolic pressure 90 mmHg or more at induction",
        ["sbp_pre >= 65"] = "systolic pressure 65 mmHg or more at induction",
        ["map_pre >= 65"] = "mean pressure 65 mmHg or more at induction",
        ["observation_window = 'to_30min'"] = "watched for 30 minutes",
        ["hypoxaemic_before"] = "hypoxaemic before induction",
        ["shocked_before"] = "shocked at induction",
        ["not spine_immobilised"] = "neck not held in line",
        ["rsi_type <> 'awake'"] = "not awake",
        ["nmba = 'rocuronium'"] = "rocuronium given",
        ["nmba = 'suxamethonium'"] = "suxamethonium given",
        ["induction_agent_ketamine"] = "ketamine given",
        ["induction_agent_propofol"] = "propofol given",
        ["induction_agent_etomidate"] = "etomidate given",
    };

    public static string Text()
    {
        var page = new StringBuilder(Head.ReplaceLineEndings("\n"));
        foreach (var group in MeasureCatalogue.Shipped.OrderBy(measure => measure.Order).GroupBy(measure => measure.Group)
            .OrderBy(group => group.Key))
        {
            page.Append(CultureInfo.InvariantCulture, $"\n## {MeasureGroups.Title(group.Key)}\n\n");
            page.Append("| Measure | Population | Better | Unknown counts as | Id |\n| --- | --- | --- | --- | --- |\n");
            foreach (var measure in group.OrderBy(measure => measure.Kind))
                page.Append(CultureInfo.InvariantCulture,
                    $"| {measure.Title}{Unit(measure)} | {Population(measure)} | {Better(measure)} | {Unknown(measure)} | "
                        + $"`{measure.Id}` |\n");
        }

        return page.ToString();
    }

    internal static string Population(Measure measure)
    {
        var words = string.Join(", ", measure.Eligible.Split(" and ").Select(part => Words.GetValueOrDefault(part, $"`{part}`")));
        return char.ToUpperInvariant(words[0]) + words[1..];
    }

    // A title that counts seconds or people says its unit.
    private static string Unit(Measure measure) => measure.Unit switch
    {
        null or "s" or "people" => "",
        "%.s" => " (% × s)",
        var unit => $" ({unit})",
    };

    private static string Better(Measure measure) => measure.Direction switch
    {
        Direction.Up => "higher",
        Direction.Down => "lower",
        _ => "context",
    };

    private static string Unknown(Measure measure) => measure.Missing == MissingRule.NotDone ? "not done" : "missing";
}
