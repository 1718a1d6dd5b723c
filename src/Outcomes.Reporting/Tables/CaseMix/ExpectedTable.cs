using Outcomes.Analysis;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>expected.csv</c>: a month, a site or the last 12 months of one model.</summary>
internal sealed record ExpectedRow(CaseMixFigures Model, ObservedExpected Months);

/// <summary><c>expected.csv</c>: observed against expected events. Fitted numbers have six significant digits.</summary>
internal static class ExpectedTable
{
    public static readonly CsvTable<ExpectedRow> Table = new CsvTable<ExpectedRow>(
        "tables/expected.csv",
        "Observed against expected events, adjusted for case mix, by month, by site and for the last 12 months",
        "One row is one month, one site, or the last 12 months together.")
        .Measure(row => row.Model.Measure.Id).Event(row => CaseMixTable.Event(row.Model))
        .Period(row => row.Months.From == row.Months.To ? row.Months.From.ToString() : $"{row.Months.From}/{row.Months.To}")
        .Site(row => row.Months.Site ?? "all")
        .Number("records", "Records that were judged.", row => row.Months.Records)
        .Number("observed", "Events among them.", row => row.Months.Observed)
        .Decimal(SharedColumns.Positive("expected", "Events expected for their case mix.") with { Required = true },
            row => row.Months.Expected)
        .Decimal(SharedColumns.Positive("expected_error", "Standard error of expected: the model's own error; empty without records."),
            row => row.Months.ExpectedError)
        .Interval("Observed over expected, the model's own error in the interval; empty without records.", Ratio)
        .Method(row => Ratio(row).Method)
        .Decimal("cumulative", "Observed less expected, summed from the first month; for months only.", row => row.Months.Cumulative)
        .With(schema => schema with { AskedBy = "case_mix", Key = ["measure", "period", "site"] });

    public static void Write(Func<string, string> place, IEnumerable<CaseMixFigures> models) => Table.Write(place,
        from model in models
        where model.Figures is not null
        from months in model.Months.Concat(model.Sites).Concat(model.Year is { } year ? [year] : [])
        select new ExpectedRow(model, months));

    private static IntervalCells Ratio(ExpectedRow row) => IntervalCells.Of(
        row.Months.Ratio?.Value, row.Months.Ratio?.Interval, row.Months.Ratio is null ? null : ObservedExpected.Method);
}
