using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What control charts say, and what they cannot say.</summary>
public static class ControlWording
{
    /// <summary>The volume is printed for thirty days: a day's part of a procedure is no number to think in.</summary>
    public const int Days = 30;

    /// <summary>
    /// Why limits are drawn and no verdict is made from them. The figures are those of the study in docs/statistics/signals.md.
    /// </summary>
    public static string NoVerdict { get; } =
        "No verdict is made from them: of simulated departments in which nothing changed, with ten cases a month and 12 "
            + "months of history, 92 "
            + "in 100 saw a month outside the usual three-sigma limits on one of six measures within 36 reports.";

    /// <summary>Why there is no chart, in a sentence.</summary>
    public static string Why(NoLimits why) => why switch
    {
        NoLimits.NotDeclared => "No baseline is declared (baseline: in the pipeline), and limits from months that were not fixed "
            + "beforehand would be chosen by what they show.",
        NoLimits.WholePeriod => "The whole period is declared as its own baseline: months would be judged by themselves.",
        NoLimits.ShortBaseline => "The declared baseline is shorter than 12 months, too few to make limits from.",
        NoLimits.NotOver => "No whole month has followed the declared baseline yet, so there is nothing to judge.",
        NoLimits.TooFew => $"too few records in the baseline: limits need {ControlCharts.LeastCases} eligible cases",
        _ => "all alike in the baseline, so limits would be those of certainty",
    };

    /// <summary>A value in the unit of its chart: <c>82.7 %</c>, <c>14.2</c>.</summary>
    public static string Value(ControlChartFigures report, double? value)
    {
        ArgumentNullException.ThrowIfNull(report);
        return value is not { } number ? ""
            : report.Charted == Charted.Proportion ? Wording.Rate(number, report.Measure!.Measure.Per)
            : (number * Days).ToString("0.0", CultureInfo.InvariantCulture);
    }

    /// <summary>What a month's value is.</summary>
    public static string Unit(ControlChartFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Charted == Charted.Proportion
            ? $"{(report.Measure!.Measure.Per == 100 ? "Percentage" : "Number " + Wording.Unit(report.Measure.Measure.Per))} "
                + "of eligible records"
            : $"Records in {Days} days, from each month’s own days";
    }

    /// <summary>Limits of one point: <c>54.5 % to 100.0 %</c>.</summary>
    public static string Limits(ControlChartFigures report, ControlPoint? point) =>
        point is { Lower: { } lower, Upper: { } upper } ? $"{Value(report, lower)} to {Value(report, upper)}" : "";

    /// <summary>What makes the limits doubtful; empty where nothing does.</summary>
    public static string Doubts(ControlChartFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var said = new List<string>();
        if (report.Last.Points.All(point => point.InBaseline))
            said.Add("The baseline of this phase is not over.");
        else if (report.Last.Points.All(point => point.Lower is null))
            said.Add("No limits: all alike in the baseline of this phase.");
        if (!report.Wider.IsEmpty)
            said.Add($"Neighbouring months of the baseline differ {Ratio(report)} times as much as chance would have it, so limits as much "
                + $"wider are drawn too (p′, u′; dashed).");
        // A short baseline is said once for all; more variation than chance is said above where wider limits stand beside.
        said.AddRange(report.Last.Doubts.Where(doubt => doubt != ChartDoubt.ShortBaseline
            && (doubt != ChartDoubt.Overdispersed || report.Wider.IsEmpty)).Select(ChartCautions.Say));
        return string.Join(' ', said);
    }

    private static string Ratio(ControlChartFigures report) => (report.Last.Variation ?? 1).ToString("0.0#", CultureInfo.InvariantCulture);
}
