using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Drawings;

/// <summary>A point as it is drawn. A month or quarter without cases has a label and an n of 0, but no value: a gap.</summary>
/// <param name="X">Its middle, in months from the start of the series.</param>
/// <param name="Label">Its month or quarter.</param>
/// <param name="N">Eligible records.</param>
/// <param name="Value">Met out of eligible, a fraction.</param>
/// <param name="Interval">Its interval.</param>
public sealed record DrawnPoint(double X, string Label, long N, double? Value, Bounds? Interval)
{
    /// <summary>Below this a point is drawn hollow.</summary>
    public const int Few = 5;

    /// <summary>Whether records of its months are still to come.</summary>
    public bool Provisional { get; init; }

    public bool Hollow => Provisional || N < Few;
}

/// <summary>The part of a chart that has one median.</summary>
/// <param name="From">Where it starts, in months from the start of the series.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Median">The median of its baseline, a fraction; null without one.</param>
/// <param name="Baseline">Its baseline's first month and number of months.</param>
public sealed record DrawnPhase(int From, int To, double? Median, (int From, int Months) Baseline);

/// <summary>A signal as it is drawn.</summary>
/// <param name="From">Where its bar starts.</param>
/// <param name="To">Where its bar ends.</param>
/// <param name="At">Where a black diamond stands; null without one.</param>
/// <param name="Words">What it says.</param>
public readonly record struct DrawnSignal(double From, double To, double? At, string Words)
{
    /// <summary>False for a run that is marked and decides nothing.</summary>
    public bool IsVerdict { get; init; } = true;
}

/// <summary>The likeliest level of a month, by the monthly test.</summary>
/// <param name="Month">Months from the start of the series.</param>
/// <param name="Value">The proportion met.</param>
/// <param name="Likely">Its 80 % range.</param>
public readonly record struct DrawnLevel(int Month, double Value, Bounds Likely);

/// <summary>A declared change as it is drawn.</summary>
/// <param name="X">Its date, in months from the start of the series.</param>
/// <param name="Mark">The letter beside its line.</param>
/// <param name="Words">Its date and what was changed.</param>
public sealed record DrawnChange(double X, string Mark, string Words);

/// <summary>A run chart as numbers and words, before any pixel.</summary>
public sealed record RunChartDrawing
{
    public required string Id { get; init; }

    public required string Title { get; init; }

    /// <summary>What a point is and what the chart says, in one line.</summary>
    public required string Subtitle { get; init; }

    /// <summary>The long description: what a listener needs in place of the picture.</summary>
    public required string Description { get; init; }

    public required int Per { get; init; }

    /// <summary>Upper end of the axis, a fraction: 1, or less for rare events.</summary>
    public required double Top { get; init; }

    public required int Months { get; init; }

    public required ImmutableArray<DrawnPoint> Points { get; init; }

    /// <summary>A median a phase; one where no declared change starts a phase.</summary>
    public required ImmutableArray<DrawnPhase> Phases { get; init; }

    /// <summary>Declared changes within the chart, by date.</summary>
    public ImmutableArray<DrawnChange> Changes { get; init; } = [];

    /// <summary>The level month by month; empty where the measure is not tested.</summary>
    public ImmutableArray<DrawnLevel> Levels { get; init; } = [];

    /// <summary>
    /// What is marked, from where to where in months from the start of the series, and words for it: the range in which a change may have
    /// started and the month of its report, or else a run that met the rule. Null without either.
    /// </summary>
    public required DrawnSignal? Signal { get; init; }

    /// <summary>First and last point of a run that met the rule, which is marked on the line and is no verdict; null without one.</summary>
    public (int First, int Last)? Run { get; init; }

    /// <summary>The drawing of a measure's run chart; null when it has none, or too few events for one.</summary>
    /// <param name="report">The measure.</param>
    /// <param name="first">The first month of the series.</param>
    /// <param name="provisional">The first month of which records are still to come; null without one.</param>
    public static RunChartDrawing? Of(MeasureFigures report, Month first, Month? provisional = null)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (report.RunChart is not { } chart || report.Series is not { } series || report.IsTooRareToChart)
            return null;
        var measure = report.Measure;
        var points = report.Points.Select((point, i) => new DrawnPoint(
            point.Start + (point.Months / 2.0), Wording.Point(chart.Span, first.AddMonths(point.Start)), point.Count.Eligible,
            point.Value, i < report.PointIntervals.Length && point.Value is not null ? report.PointIntervals[i] : null)
        {
            Provisional = provisional is { } from && first.AddMonths(point.Start + point.Months - 1) >= from,
        }).ToImmutableArray();
        var label = report.Verdict is { Reason: not VerdictReason.NotAsked } verdict ? VerdictWording.Label(verdict) : "";
        var span = chart.Span == PointSpan.Quarter ? "quarter" : "month";
        var top = AxisTop(points);
        var unit = Wording.Unit(measure.Per);
        return new()
        {
            Id = measure.Id,
            Title = measure.Title,
            Subtitle = $"{(measure.Per == 100 ? "Percentage of" : Sentence(unit))} eligible records by {span}"
                + (top < 1 ? $" · axis ends at {Wording.Short(top, measure.Per)}" : "")
                + (label.Length > 0 ? $" · {label}" : ""),
            Description = Describe(report, chart, first, label),
            Per = measure.Per,
            Top = top,
            Months = series.Counts.Length,
            Points = points,
            Phases = [.. Parts(report.Phases, series.Counts.Length)],
            Changes = [.. Notes(report.Changes, first, series.Counts.Length)],
            Levels = Level(report, first),
            Signal = Signalled(report, chart, points, first),
            Run = RunOf(report, chart),
        };
    }

    /// <summary>
    /// The whole scale, unless every point and interval lies in its lower half: then the least round end that holds them. The long
    /// intervals of hollow points do not count here; where they leave the sheet, an arrow says so.
    /// </summary>
    public static double AxisTop(IEnumerable<DrawnPoint> points)
    {
        var highest = points.Where(point => point.Value is not null)
            .Select(point => Math.Max(point.Value!.Value, point.Hollow ? 0 : point.Interval?.Upper ?? 0)).DefaultIfEmpty(1).Max();
        double[] tops = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5];
        foreach (var top in tops)
        {
            if (highest <= top)
                return top;
        }

        return 1;
    }

    // What the verdict says stands on the chart; without that a run that met the rule is marked, with the words that it is none.
    private static DrawnSignal? Signalled(MeasureFigures report, RunChart chart, ImmutableArray<DrawnPoint> points, Month first)
    {
        if (report.Verdict is { Change: { } change, SaysChange: true } verdict)
            return new(change.From.MonthsSince(first), change.To.MonthsSince(first) + 1, change.Reported.MonthsSince(first) + 0.5,
                $"{VerdictWording.Label(verdict)}; the bar: when it may have started");
        return RunOf(report, chart) is var (from, to)
            ? new(points[from].X, points[to].X, null, RunChartWording.Run(chart)) { IsVerdict = false } : null;
    }

    private static (int First, int Last)? RunOf(MeasureFigures report, RunChart chart)
    {
        if (!chart.Signals || !chart.LongRun || LongestRun.Of(chart) is not { } run)
            return null;
        var before = report.Points.Count() - chart.Points.Length;
        return (before + run.First, before + run.Last);
    }

    private static ImmutableArray<DrawnLevel> Level(MeasureFigures report, Month first)
    {
        if (report.Signal?.Window is not { Test: { } test } window)
            return [];
        var (from, flip) = (window.HistoryFrom.MonthsSince(first), report.Measure.Direction == Direction.Up);
        return [.. test.Levels.Select((level, i) => flip
            ? new DrawnLevel(from + i, 1 - level.Median, new(1 - level.Likely80.Upper, 1 - level.Likely80.Lower))
            : new DrawnLevel(from + i, level.Median, level.Likely80))];
    }

    private static IEnumerable<DrawnPhase> Parts(ImmutableArray<RunChart> phases, int months)
    {
        for (var i = 0; i < phases.Length; i++)
            yield return new(i == 0 ? 0 : phases[i].Points[0].Start, i + 1 < phases.Length ? phases[i + 1].Points[0].Start : months,
                phases[i].Median, phases[i].Baseline);
    }

    private static IEnumerable<DrawnChange> Notes(ImmutableArray<DeclaredChange> changes, Month first, int months)
    {
        var mark = 'A';
        foreach (var change in changes)
        {
            var month = Month.Of(change.Date);
            var x = month.MonthsSince(first) + ((change.Date.Day - 1.0) / DateTime.DaysInMonth(month.Year, month.Number));
            if (x >= 0 && x <= months)
                yield return new(x, $"{mark++}", $"{Wording.Date(change.Date)}: {change.What}{(change.NewPhase ? " (new phase)" : "")}");
        }
    }

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Describe(MeasureFigures report, RunChart chart, Month first, string label)
    {
        var per = report.Measure.Per;
        var known = report.Points.Where(point => point.Value is not null).ToList();
        var gaps = report.Points.Count() - known.Count;
        if (known.Count == 0)
            return $"Run chart of {report.Measure.Title}: no {(chart.Span == PointSpan.Quarter ? "quarter" : "month")} has eligible cases.";
        var last = known[^1];
        return $"Run chart of {report.Measure.Title}, {Wording.Some(known.Count, "point")} from " +
            $"{Wording.Point(chart.Span, first.AddMonths(known[0].Start))} to {Wording.Point(chart.Span, first.AddMonths(last.Start))}" +
            (gaps > 0 ? $", {Wording.Some(gaps, "gap")} without cases" : "") +
            $". Lowest {Wording.Rate(known.Min(point => point.Value!.Value), per)}, " +
            $"highest {Wording.Rate(known.Max(point => point.Value!.Value), per)}, " +
            $"last {Wording.Rate(last.Value!.Value, per)} ({Wording.Fraction(last.Count)})" +
            (chart.Median is { } median ? $", median of the baseline {Wording.Rate(median, per)}" : "") + "." +
            (label.Length > 0 ? $" {label}." : "") +
            string.Concat(report.Changes.Where(change => Month.Of(change.Date) >= first).Select(
                change => $" Declared change on {Wording.Date(change.Date)}: {change.What}{(change.NewPhase ? ", a new phase" : "")}."));
    }
}
