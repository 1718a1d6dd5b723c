using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Tables;

namespace Outcomes.Reporting.Answers;

/// <summary>A row of the table of an answer: a count of one cohort.</summary>
internal sealed record AnswerRow(string Cohort, CountedPeriod Counted);

/// <summary>A row of the table of a quantity's answer.</summary>
internal sealed record AnswerQuantityRow(
    string Cohort, string Measure, string Period, string Stratum, string Level, QuantitySummary? Summary, long N, long Missing);

/// <summary>The table of an answer as CSV: the cells of <c>estimates.csv</c>, or of <c>quantities.csv</c>, cohort by cohort.</summary>
public static class AnswerTable
{
    private static readonly CsvTable<AnswerRow> Proportions = new CsvTable<AnswerRow>("answer.csv", "An answer",
        "One row is one cohort, period and stratum level.")
        .Word("cohort", "first or second.", row => row.Cohort, "first", "second")
        .Measure(row => row.Counted.Measure).Period(row => row.Counted.Period).Stratum(row => row.Counted.Stratum)
        .Level(row => row.Counted.Level).Proportion(row => IntervalCells.Of(row.Counted.Estimate))
        .Method(row => row.Counted.Estimate?.Method).Count(row => row.Counted.Count);

    private static readonly CsvTable<AnswerQuantityRow> Values = new CsvTable<AnswerQuantityRow>("answer.csv", "An answer",
        "One row is one cohort and stratum level.")
        .Word("cohort", "first or second.", row => row.Cohort, "first", "second")
        .Measure(row => row.Measure).Period(row => row.Period).Stratum(row => row.Stratum).Level(row => row.Level)
        .Decimal("median", "Median.", row => row.Summary?.Median)
        .Decimal("lower", "Lower end of its interval.", row => row.Summary?.Estimates[1].Lower)
        .Decimal("upper", "Upper end of its interval.", row => row.Summary?.Estimates[1].Upper)
        .Decimal("lower_quartile", "Lower quartile.", row => row.Summary?.LowerQuartile)
        .Decimal("upper_quartile", "Upper quartile.", row => row.Summary?.UpperQuartile)
        .Number("n", "Records with a value.", row => row.N).Number("missing", "Records without one.", row => row.Missing);

    /// <summary>Writes the table; a cohort that is too small for any figure has no row.</summary>
    public static void Write(Stream to, QuestionAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var cohorts = Cohorts(answer).Where(each => !each.Figures.IsTooFew);
        if (answer.Asked.Measure.Kind == MeasureKind.Proportion)
            Write(to, Proportions, cohorts.SelectMany(each => each.Figures.Rows().Select(row => new AnswerRow(each.Name, row))));
        else
            Write(to, Values, cohorts.SelectMany(each => Rows(each.Name, each.Figures)));
    }

    internal static IEnumerable<(string Name, CohortFigures Figures)> Cohorts(QuestionAnswer answer) =>
        answer.Second is null ? [("first", answer.First)] : [("first", answer.First), ("second", answer.Second)];

    private static IEnumerable<AnswerQuantityRow> Rows(string name, CohortFigures cohort)
    {
        var (id, period, figures) = (cohort.Figures.Measure.Id, $"{cohort.Cohort.From}/{cohort.Cohort.To}", cohort.Figures);
        yield return new(name, id, period, "all", "all", figures.YearQuantity, figures.YearQuantity?.N ?? 0, figures.YearWithoutValue);
        if (!cohort.ShowsLevels)
            yield break;
        foreach (var split in cohort.Quantities)
            foreach (var level in split.Levels)
                yield return new(name, id, period, split.Field, level.Level, level.Summary, level.N, level.Missing);
    }

    private static void Write<T>(Stream to, CsvTable<T> table, IEnumerable<T> rows)
    {
        using var writer = TableWriter.Create(to, [.. table.Schema.Columns.Select(column => column.Name)]);
        foreach (var row in rows)
            table.Cells(writer, row).End();
    }
}
