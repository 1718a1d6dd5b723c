using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The table of declared changes: before and after, and what the regression makes of it.</summary>
public static class ChangeTable
{
    public static readonly ImmutableArray<string> Columns =
    [
        "measure", "date", "expect", "figure", "period", "value", "lower", "upper", "level_pct", "method", "met",
        "eligible", "missing", "doubts",
    ];

    /// <summary>
    /// One row a figure of each change and measure: <c>before</c>, <c>after</c> (proportions), <c>difference</c>; then, where both sides
    /// have months, the odds ratios <c>trend_before</c>, <c>level</c>, <c>trend</c>, <c>at_end</c>, and <c>dispersion</c>, with the
    /// regression's doubts. No value: no answer.
    /// </summary>
    public static void Write(string path, IEnumerable<ChangeEvaluation> changes) => TableWriter.ToFile(path, Columns, table =>
    {
        foreach (var each in changes)
        {
            if (each.Before is { } before)
                Side("before", before, each.BeforeCount, each.BeforeEstimate);
            if (each.After is { } after)
                Side("after", after, each.AfterCount, each.AfterEstimate);
            if (each is not { Before: var (from, _), After: var (_, to) })
                continue;
            var whole = $"{from}/{to}";
            if (each.Difference is { } difference)
                Row("difference", whole, difference.Value, new(difference.Lower, difference.Upper), difference.Method, null, "");
            if (each.Segments is not { } segments)
                continue;
            var doubts = string.Join(' ', segments.Doubts.Select(ChartCautions.Name));
            Odds("trend_before", segments.TrendBefore);
            Odds("level", segments.Level);
            Odds("trend", segments.Trend);
            Odds("at_end", segments.AtEnd);
            Row("dispersion", whole, segments.Dispersion, null, "pearson", null, doubts);

            // Two months a side can leave an interval that no number holds: such an answer is none.
            void Odds(string figure, FittedOdds? odds)
            {
                var known = odds is { } given && double.IsFinite(given.Value) && double.IsFinite(given.Upper) ? odds : null;
                Row(figure, whole, known?.Value, known is null ? null : new(known.Lower, known.Upper), "segmented_logistic", null, doubts);
            }

            void Side(string figure, (Records.Month From, Records.Month To) span, Count count, Estimate? estimate) =>
                Row(figure, $"{span.From}/{span.To}", estimate?.Value, estimate is null ? null : new(estimate.Lower, estimate.Upper),
                    Wilson.Method, count, "");

            void Row(string figure, string period, double? value, Bounds? interval, string method, Count? count, string? doubts)
            {
                table.Text(each.Measure.Id).Text(each.Change.Date.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture))
                    .Text(each.Change.Expect == Direction.Up ? "up" : "down").Text(figure).Text(period)
                    .Number(value).Number(interval?.Lower).Number(interval?.Upper).Number(interval is null ? null : 95)
                    .Text(value is null ? null : method);
                (count is { } known ? table.Integer(known.Met).Integer(known.Eligible).Integer(known.Missing) : table.Empty().Empty()
                    .Empty()).Text(doubts).End();
            }
        }
    });
}
