using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>
/// The table of quantities: quartiles of the report month and of the last 12 months, and by the sections that split them.
/// </summary>
public static class QuantitiesTable
{
    public static readonly ImmutableArray<string> Columns =
        [
            "measure", "period", "stratum", "level", "quantile", "value", "lower", "upper", "level_pct", "coverage_pct", "method", "n",
            "missing"
        ];

    /// <summary>
    /// Three rows a period with values: the quantiles 0.25, 0.5 and 0.75. An end that too few values bound is an empty cell; so are the
    /// figures of fewer than five values.
    /// </summary>
    public static void Write(string path, Figures model) => TableWriter.ToFile(path, Columns, table =>
    {
        foreach (var report in model.Measures)
        {
            Rows(report.Measure.Id, model.Month.ToString(), CountRow.All, CountRow.All, report.ThisMonthQuantity);
            Rows(report.Measure.Id, $"{model.YearFrom}/{model.Month}", CountRow.All, CountRow.All, report.YearQuantity);
        }

        foreach (var section in model.Sections)
            foreach (var quantity in section.Quantities)
                foreach (var level in quantity.Levels)
                    Rows(quantity.Measure.Id, StrataTables.Period(section), quantity.Field, level.Level, level.Summary);

        void Rows(string measure, string period, string stratum, string level, QuantitySummary? summary)
        {
            if (summary is null)
                return;
            // The value of one case is not a figure of the department: few values are counted alone.
            if (summary.N < StratumFigures.LeastRecords)
            {
                foreach (var part in QuantitySummary.Parts)
                    table.Text(measure).Text(period).Text(stratum).Text(level).Number(part).Empty().Empty().Empty().Empty().Empty()
                        .Text(Quantiles.Method).Integer(summary.N).Integer(summary.Missing).End();
                return;
            }

            foreach (var (i, estimate) in summary.Estimates.Index())
                table.Text(measure).Text(period).Text(stratum).Text(level).Number(QuantitySummary.Parts[i]).Number(estimate.Value)
                    .Number(estimate.Lower).Number(estimate.Upper).Number(estimate.Level * 100)
                    .Number(estimate is { Lower: not null, Upper: not null } ? estimate.Coverage * 100 : null).Text(Quantiles.Method)
                    .Integer(estimate.N).Integer(summary.Missing).End();
        }
    });
}
