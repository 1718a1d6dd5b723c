using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What control charts say, and what they cannot say.</summary>
public static class ControlWording
{
    /// <summary>The volume is printed for thirty days: a day's part of a procedure is no number to think in.</summary>
    public const int Days = 30;

    /// <summary>Why limits are shown and do not decide. The figures are those of the study in docs/statistics/signals.md.</summary>
    public static string WhyNotDecide { get; } =
        "Limits ask of each month by itself whether chance explains it. Looked at every month they mislead: of simulated "
            + "departments in which nothing changed, with ten cases a month, 12 months of history and the usual three-sigma limits, "
            + "27 in 100 saw a month outside within 36 reports on one measure, and 92 in 100 on one of six (docs/statistics/signals.md; "
            + "the limits of proportions here are exact ones, for which that was not simulated). So a month outside is a question about "
            + "that month, recording first; whether something has changed is asked by the watch for change, and it decides.";

    /// <summary>Why there is no chart, in a sentence.</summary>
    public static string Why(NoLimits why) => why switch
    {
        NoLimits.NotDeclared => "No baseline is declared (baseline: in the pipeline), and limits from months that were not fixed "
            + "beforehand would be chosen by what they show.",
        NoLimits.WholePeriod => "The whole period is declared as its own baseline: months would be judged by themselves.",
        NoLimits.ShortBaseline => "The declared baseline is shorter than 12 months, too few to make limits from.",
        NoLimits.NotOver => "No whole month has followed the declared baseline yet, so there is nothing to judge.",
        NoLimits.TooFew => $"too few records in the baseline: limits need {ControlCharts.LeastCases} eligible cases, "
            + $"and for medians a middle of {ControlCharts.UsualValues} values a month over {ControlCharts.UsualValues} months",
        _ => "all alike in the baseline, so limits would be those of certainty",
    };

    /// <summary>A value in the unit of its chart: <c>82.7 %</c>, <c>14.2</c>, <c>92 %</c>.</summary>
    public static string Value(ControlChartFigures report, double? value)
    {
        ArgumentNullException.ThrowIfNull(report);
        return value is not { } number ? "" : report.Charted switch
        {
            Charted.Proportion => Wording.Rate(number, report.Measure!.Measure.Per),
            Charted.Volume => (number * Days).ToString("0.0", CultureInfo.InvariantCulture),
            _ => Wording.Quantity(number) + (report.Measure!.Measure.Unit is { Length: > 0 } unit ? Wording.Space + unit : ""),
        };
    }

    /// <summary>What a month's value is.</summary>
    public static string Unit(ControlChartFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Charted switch
        {
            Charted.Proportion =>
                $"{(report.Measure!.Measure.Per == 100 ? "Percentage" : "Number " + Wording.Unit(report.Measure.Measure.Per))} "
                    + "of eligible records",
            Charted.Volume => $"Records in {Days} days, from each month’s own days",
            _ => "Median of the month’s records",
        };
    }

    /// <summary>Limits of one point: <c>54.5 % to 100.0 %</c>.</summary>
    public static string Limits(ControlChartFigures report, ControlPoint? point) =>
        point is { Lower: { } lower, Upper: { } upper } ? $"{Value(report, lower)} to {Value(report, upper)}" : "";

    /// <summary>The verdict in a few words.</summary>
    public static string Brief(ControlChartFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (report.Last.Points.All(point => point.InBaseline))
            return "the baseline of this phase is not over";
        if (report.Last.Points.All(point => point.Lower is null))
            return "no limits: all alike in the baseline of this phase";
        Month[] outside = [.. report.Outside];
        return outside.Length == 0 ? "no month outside the limits"
            : $"outside the limits: {string.Join(", ", outside.Select(Wording.Name))}";
    }

    /// <summary>What the chart says, what the watch for change says beside it, and what makes the limits doubtful.</summary>
    public static string Said(ControlChartFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var said = new List<string> { Sentence(Brief(report)) };
        if (!report.Wider.IsEmpty)
            said.Add(report.OutsideWider.ToArray() is { Length: > 0 } still
                ? $"Neighbouring months of the baseline differ {Ratio(report)} times as much as chance would have it, so limits as much "
                    + $"wider are drawn too (p′, u′; dashed): outside them {string.Join(", ", still.Select(Wording.Name))}."
                : $"Neighbouring months of the baseline differ {Ratio(report)} times as much as chance would have it, "
                    + $"so limits as much wider are drawn too (p′, u′; dashed): no month lies outside them.");
        if (!report.Ranges.IsEmpty && report.Ranges[^1].Chart.Points.Count(point => point.Beyond && !point.InBaseline) is int jumps and > 0)
            said.Add($"{Wording.Some(jumps, "step")} from month to month {(jumps == 1 ? "is" : "are")} larger than the limit "
                + $"of moving ranges.");
        if (Beside(report) is { Length: > 0 } beside)
            said.Add(beside);
        // A short baseline is said once for all; more variation than chance is said above where wider limits stand beside.
        said.AddRange(report.Last.Doubts.Where(doubt => doubt != ChartDoubt.ShortBaseline
            && (doubt != ChartDoubt.Overdispersed || report.Wider.IsEmpty)).Select(ChartCautions.Say));
        return string.Join(' ', said);
    }

    /// <summary>Which question each answers, where the watch for change looks at the same measure.</summary>
    private static string Beside(ControlChartFigures report)
    {
        if (report is not { Charted: Charted.Proportion, Measure.Signal: { } signal } || report.Last.Points.All(point => point.InBaseline))
            return "";
        var (outside, changed) = (report.Outside.Any(), signal.State == ChangeState.ChangeSignal);
        var watch = $"The watch for change says: {SignalWording.Brief(signal)}.";
        return (outside, changed) switch
        {
            (true, false) => $"{watch} One unusual month is not a lasting change; the watch decides about that.",
            (false, true) => $"{watch} Many months a little to one side add up to a change that no single month shows; the watch decides.",
            (true, true) => $"{watch} Both point at something; the watch decides, and says since when.",
            _ => watch,
        };
    }

    private static string Ratio(ControlChartFigures report) => (report.Last.Variation ?? 1).ToString("0.0#", CultureInfo.InvariantCulture);

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..] + ".";
}
