using Outcomes.Analysis;

namespace Outcomes.Reporting;

/// <summary>The methods in ten lines; the appendix names the source of each.</summary>
public static class MethodsWording
{
    public static IReadOnlyList<string> Lines(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return
        [
            "A missing answer is never “no”: the record is left out. Process measures that count it as not done say so.",
            $"Intervals are 95{Wording.Space}% Wilson intervals. A star marks one widened because months vary more than chance alone.",
            $"For zero events the report adds a one-sided exact 95{Wording.Space}% upper bound.",
            "Run charts compare each month with the median of a baseline fixed beforehand. A run on a chart is no verdict.",
            $"Each month a test asks whether a headline measure has changed. {FalseStatementsWording.Say(model.FalseStatements)}",
            "A declared change is evaluated once, on the date fixed when it was declared, against the months before it.",
            "Where a model follows case mix, the test allows for it; the caption says so.",
            "Rare events are compared once a year. Harm is counted in every procedure, whoever the patient.",
            "Months whose records are still arriving are drawn hollow and are not tested.",
            "One verdict is given for each measure. Pages, charts and tables all quote it.",
        ];
    }
}
