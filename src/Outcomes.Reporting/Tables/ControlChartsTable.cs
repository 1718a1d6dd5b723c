using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The table of control charts. It holds small numbers by month: for the department only.</summary>
public static class ControlChartsTable
{
    public static readonly ImmutableArray<string> Columns =
        [
            "measure", "method", "period", "numerator", "denominator", "value", "centre", "lower", "upper", "variation", "outside",
            "baseline", "doubts"
        ];

    /// <summary>
    /// A row a month and method, months without a value included. Proportions: met, eligible, fractions; <c>procedures_a_day</c>: records
    /// and calendar days; medians (<c>individuals</c>) and their <c>moving_range</c>: no numerator, and how many records had a value.
    /// <c>variation</c> is σ_z of p and u charts, and the mean moving range of medians. <c>outside</c> is empty for a gap, and for a month
    /// of the baseline, which is not judged.
    /// </summary>
    public static void Write(string path, IEnumerable<ControlChartFigures> rows) => TableWriter.ToFile(path, Columns, table =>
    {
        foreach (var each in rows)
            foreach (var phase in each.Phases.Concat(each.Wider).Concat(each.Ranges))
                Phase(each, phase.Chart);

        void Phase(ControlChartFigures each, ControlChart chart)
        {
            var inside = chart.Points.Where(point => point.InBaseline).Select(point => each.Months[point.Position].Month).ToArray();
            var baseline = inside is [var from, ..] ? $"{from}/{inside[^1]}" : "";
            var doubts = string.Join(' ', chart.Doubts.Select(ChartCautions.Name));
            foreach (var point in chart.Points)
            {
                var (month, numerator, denominator) = each.Months[point.Position];
                table.Text(each.Id).Text(chart.Method).Text(month.ToString());
                (numerator is { } number ? table.Integer(number) : table.Empty()).Integer(denominator)
                    .Number(point.Value).Number(chart.Centre).Number(point.Lower).Number(point.Upper).Number(chart.Variation);
                (point.InBaseline || point.Value is null || (point.Lower is null && point.Upper is null)
                    ? table.Empty()
                    : table.YesNo(point.Beyond)).Text(baseline).Text(doubts).End();
            }
        }
    });
}
