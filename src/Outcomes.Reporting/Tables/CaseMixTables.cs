using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The tables of the case mix: the models, and what they let expect. Fitted numbers have six significant digits.</summary>
public static class CaseMixTables
{
    private const string Calibration = "cross_validated";

    public static readonly ImmutableArray<string> ModelColumns =
        ["measure", "event", "part", "field", "level", "reference", "records", "events", "value", "lower", "upper", "level_pct", "method"];

    public static readonly ImmutableArray<string> ExpectedColumns =
    [
        "measure", "event", "period", "site", "records", "observed", "expected", "value", "lower", "upper", "level_pct", "method",
        "cumulative", "cusum", "cusum_limit", "signal",
    ];

    /// <summary>
    /// One row an odds ratio, one a figure of discrimination and calibration, one a group of the calibration plot; a refused
    /// model is one row.
    /// </summary>
    public static void Models(string path, IEnumerable<CaseMixFigures> reports) => TableWriter.ToFile(path, ModelColumns, table =>
    {
        foreach (var report in reports)
        {
            Row(report.Figures is null ? "refused" : "model", "", "", "", report.Records, report.Events, null, null, null);
            if (report.Figures is not { } figures)
                continue;
            foreach (var term in figures.Terms)
                Row("odds_ratio", term.Field, term.Level, term.Reference, term.Records, term.Events, term.OddsRatio, term.Interval,
                    figures.Penalised ? $"{term.Method}_penalised" : term.Method);
            Figure("auc", figures.Auc.Value, figures.Auc.Interval, "delong_cross_validated");
            Figure("auc_apparent", figures.ApparentAuc, null, "fitted_records");
            Figure("calibration_intercept", figures.Intercept?.Value, figures.Intercept?.Interval, Calibration);
            Figure("calibration_slope", figures.Slope?.Value, figures.Slope?.Interval, Calibration);
            Figure("brier", figures.Brier, null, Calibration);
            Figure("brier_of_mean", figures.BrierOfMean, null, "mean");
            foreach (var group in figures.Groups)
            {
                Row("group_expected", "", "", "", (int)group.Observed.Count.Eligible, (int)group.Observed.Count.Met,
                    group.Expected, null, Calibration);
                Row("group_observed", "", "", "", (int)group.Observed.Count.Eligible, (int)group.Observed.Count.Met, group.Observed.Value,
                    new(group.Observed.Lower, group.Observed.Upper), group.Observed.Method);
            }

            void Figure(string part, double? value, Bounds? interval, string method) =>
                Row(part, "", "", "", report.Records, report.Events, value, interval, method);

            void Row(string part, string field, string? level, string? reference, int records, int events, double? value,
                Bounds? interval, string? method) =>
                    Interval(table.Text(report.Measure.Id).Text(Event(report)).Text(part).Text(field).Text(level).Text(reference)
                        .Integer(records).Integer(events).Number(value), interval).Text(method).End();
        }
    });

    /// <summary>One row a month, one a site and one for the last 12 months.</summary>
    public static void Expected(string path, IEnumerable<CaseMixFigures> reports) => TableWriter.ToFile(path, ExpectedColumns, table =>
    {
        foreach (var report in reports.Where(report => report.Figures is not null))
            foreach (var row in report.Months.Concat(report.Sites).Concat(report.Year is { } year ? [year] : []))
            {
                table.Text(report.Measure.Id).Text(Event(report)).Text(row.From == row.To ? row.From.ToString() : $"{row.From}/{row.To}")
                    .Text(row.Site ?? "all")
                    .Integer(row.Records).Integer(row.Observed).Number(row.Expected).Number(row.Ratio?.Value);
                Interval(table, row.Ratio?.Interval).Text(row.Ratio is null ? null : ExactPoisson.Method)
                    .Number(row.Cumulative).Number(row.Cusum).Number(row.Cusum is null ? null : report.Figures!.Cusum.Limit)
                    .Text(row.Cusum is null ? null : row.Signal ? "yes" : "no").End();
            }
    });

    private static TableWriter Interval(TableWriter table, Bounds? interval) =>
        table.Number(interval?.Lower).Number(interval?.Upper).Number(interval is null ? null : 95);

    private static string Event(CaseMixFigures report) => report.EventIsNotMet ? "not_met" : "met";
}
