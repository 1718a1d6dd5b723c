using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>rare_events.csv</c>.</summary>
internal sealed record RareEventsRow(RareEvents Events, string Part, string Period, long Count, long Cases)
{
    public int? Days { get; init; }

    public double? Expected { get; init; }

    public IntervalCells Cells { get; init; }

    public string? Doubts { get; init; }
}

/// <summary>The table of rare events. It tells the places of single cases: for the department only.</summary>
internal static class RareEventsTable
{
    public static readonly CsvTable<RareEventsRow> Table = new CsvTable<RareEventsRow>(
        "tables/rare_events.csv",
        "Rare events: cases and days between them, and how many the baseline predicts",
        "For each measure: total (rate; without an event also bound, a one-sided upper bound), baseline, "
        + "after (events and those expected) and after_ratio (their ratio, allowing for the baseline's own few events), "
        + "first (up to the first event), "
        + "days_limits (median and limits of the days between events), gap (one row from each event to the next) and open "
        + "(since the last event).")
        .Measure(row => row.Events.Measure.Id).Event(row => row.Events.EventIsNotMet ? "not_met" : "met")
        .Word("part", "What the row holds.", row => row.Part,
            "total", "bound", "baseline", "after", "after_ratio", "first", "days_limits", "gap", "open")
        .Period(row => row.Period)
        .Number("events", "Events in the period; for a gap 1, the event that ends it; for days_limits the number of gaps.",
            row => row.Count)
        .Number("cases", "Eligible cases in the period; for a gap the cases up to its event, that one included.", row => row.Cases)
        .Integer("days", "Days from the event before, or from the start of the series; for first, gap and open only.",
            row => row.Days, unit: "d")
        .Decimal(SharedColumns.Positive("expected", "Events expected from the baseline; for after only."), row => row.Expected)
        .Interval("Rate for total, ratio for after_ratio, median days for days_limits; for a gap only the limits of its cases.",
            row => row.Cells)
        .Method(row => row.Cells.Method)
        .Doubts(row => row.Doubts)
        .With(schema => schema with { DepartmentOnly = true });

    public static void Write(Func<string, string> place, IEnumerable<RareEvents> measures) =>
        Table.Write(place, measures.SelectMany(each => Sums(each).Concat(Gaps(each))));

    private static IEnumerable<RareEventsRow> Sums(RareEvents each)
    {
        var whole = $"{each.From}/{each.To}";
        var after = $"{each.Baseline.To.AddMonths(1)}/{each.To}";
        yield return Sum("total", whole, each.Count) with
        {
            Cells = Known(each.Estimate?.Value, each.Estimate?.Lower, each.Estimate?.Upper, 95, each.Estimate?.Method),
        };
        if (each.UpperWhenNone is { } bound)
            yield return Sum("bound", whole, each.Count with { Met = 0 }) with
            {
                Cells = Known(null, null, bound, 95, "clopper_pearson_one_sided"),
            };
        yield return Sum("baseline", $"{each.Baseline.From}/{each.Baseline.To}", each.BaselineCount);
        if (each.AfterCount.Eligible > 0)
            yield return Sum("after", after, each.AfterCount) with
            {
                Expected = each.AfterPoint?.Expected,
            };
        if (each.Ratio is { } ratio)
            yield return Sum("after_ratio", after, each.AfterCount) with
            {
                Cells = Known(ratio.Value, ratio.Lower, ratio.Upper, 95, ratio.Method),
            };

        RareEventsRow Sum(string part, string period, Count count) => new(each, part, period, count.Met, count.Eligible);
    }

    private static IEnumerable<RareEventsRow> Gaps(RareEvents each)
    {
        if (each.First is { } first)
            yield return new(each, "first", first.Month.ToString(), 1, first.Cases) { Days = first.Days };
        if (each.DaysChart is { } days && RareWording.Limits(days) is { } ends)
            yield return new(each, "days_limits", $"{each.Baseline.From}/{each.Baseline.To}", each.Gaps.Length, 0)
            {
                Cells = Known(days.Centre, ends.Lower, ends.Upper, null, days.Method),
                Doubts = Doubts(days),
            };
        var limits = RareWording.Limits(each.Chart);
        foreach (var gap in each.Gaps)
            yield return Gap("gap", gap, 1);
        if (each.Since is { } open)
            yield return Gap("open", open, 0);

        RareEventsRow Gap(string part, EventGap gap, long events) => new(each, part, gap.Month.ToString(), events, gap.Cases)
        {
            Days = gap.Days,
            Cells = Known(null, limits?.Lower, limits?.Upper, null, each.Chart?.Method),
            Doubts = Doubts(each.Chart),
        };
    }

    private static string Doubts(ControlChart? chart) => string.Join(' ', chart?.Doubts.Select(ChartCautions.Name) ?? []);

    // A ratio to a baseline without any event has no upper end; without any number there is no method either.
    private static IntervalCells Known(double? value, double? lower, double? upper, int? level, string? method)
    {
        (value, lower, upper) = (Finite(value), Finite(lower), Finite(upper));
        return value is null && lower is null && upper is null ? default : new(value, lower, upper, level, method);
    }

    private static double? Finite(double? value) => value is { } number && double.IsFinite(number) ? number : null;
}
