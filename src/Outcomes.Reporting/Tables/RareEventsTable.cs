using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The table of rare events. It tells the places of single cases: for the department only.</summary>
public static class RareEventsTable
{
    public static readonly ImmutableArray<string> Columns =
    [
        "measure", "event", "part", "period", "events", "cases", "days", "expected", "value", "lower", "upper",
        "level_pct", "method", "doubts",
    ];

    /// <summary>
    /// Rows of each measure: <c>total</c> (rate; without an event <c>bound</c> too, its upper end one-sided), <c>baseline</c>, <c>after</c>
    /// (observed against expected as ratio) and <c>after_ratio</c> (with the baseline's own uncertainty), then <c>first</c>,
    /// <c>days_limits</c> (median and limits of the days from one event to the next), <c>gap</c> by <c>gap</c>, and <c>open</c>, whose
    /// <c>lower</c> and <c>upper</c> are limits of the cases. Measures that the page tells under another have their rows too.
    /// </summary>
    public static void Write(string path, IEnumerable<RareEvents> rows) => TableWriter.ToFile(path, Columns, table =>
    {
        foreach (var each in rows)
        {
            var whole = $"{each.From}/{each.To}";
            var baseline = $"{each.Baseline.From}/{each.Baseline.To}";
            var after = $"{each.Baseline.To.AddMonths(1)}/{each.To}";
            Row("total", whole, each.Count.Met, each.Count.Eligible, null, null, each.Estimate?.Value, each.Estimate?.Lower,
                each.Estimate?.Upper, 95, each.Estimate?.Method);
            if (each.UpperWhenNone is { } bound)
                Row("bound", whole, 0, each.Count.Eligible, null, null, null, null, bound, 95, "clopper_pearson_one_sided");
            Row("baseline", baseline, each.BaselineCount.Met, each.BaselineCount.Eligible, null, null, null, null, null, null, null);
            if (each.AfterCount.Eligible > 0)
                Row("after", after, each.AfterCount.Met, each.AfterCount.Eligible, null, each.AfterPoint?.Expected, each.AfterPoint?.Ratio,
                    each.AfterPoint?.Lower, each.AfterPoint?.Upper, 95, ExactPoisson.Method);
            if (each.Ratio is { } ratio)
                Row("after_ratio", after, each.AfterCount.Met, each.AfterCount.Eligible, null, null, ratio.Value, ratio.Lower,
                    ratio.Upper, 95, ratio.Method);
            if (each.First is { } first)
                Row("first", first.Month.ToString(), 1, first.Cases, first.Days, null, null, null, null, null, null);
            var doubts = string.Join(' ', each.Chart?.Doubts.Select(ChartCautions.Name) ?? []);
            var limits = RareWording.Limits(each.Chart);
            if (each.DaysChart is { } days && RareWording.Limits(days) is { } ends)
                Row("days_limits", baseline, each.Gaps.Length, 0, null, null, days.Centre, ends.Lower, ends.Upper, null, days.Method,
                    string.Join(' ', days.Doubts.Select(ChartCautions.Name)));
            foreach (var gap in each.Gaps)
                Row("gap", gap.Month.ToString(), 1, gap.Cases, gap.Days, null, null, limits?.Lower, limits?.Upper, null,
                    limits is null ? null : each.Chart?.Method, doubts);
            if (each.Since is { } open)
                Row("open", open.Month.ToString(), 0, open.Cases, open.Days, null, null, limits?.Lower, limits?.Upper, null,
                    limits is null ? null : each.Chart?.Method, doubts);

            void Row(string part, string period, long events, long cases, int? days, double? expected, double? value, double? lower,
                double? upper, int? level, string? method, string doubts = "")
            {
                var any = Finite(value) is not null || Finite(lower) is not null || Finite(upper) is not null;
                table.Text(each.Measure.Id).Text(each.EventIsNotMet ? "not_met" : "met").Text(part).Text(period)
                    .Integer(events).Integer(cases);
                (days is { } known ? table.Integer(known) : table.Empty()).Number(expected).Number(Finite(value))
                    .Number(Finite(lower)).Number(Finite(upper))
                    .Number(any ? level : null).Text(any ? method : null).Text(doubts).End();
            }
        }
    });

    // A ratio to a baseline without any event has no upper end.
    private static double? Finite(double? value) => value is { } number && double.IsFinite(number) ? number : null;
}
