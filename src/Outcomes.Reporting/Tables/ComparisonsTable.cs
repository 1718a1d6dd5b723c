using Outcomes.Analysis;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>comparisons.csv</c>.</summary>
internal sealed record ComparisonsRow(SectionFigures Section, string Measure, string Stratum, string Part, int Levels)
{
    public string? Within { get; init; }

    public IntervalCells Cells { get; init; }

    public double? Statistic { get; init; }

    public int? Degrees { get; init; }

    public double? PValue { get; init; }
}

/// <summary><c>comparisons.csv</c>: differences, odds ratios and trends between the levels of the report's sections.</summary>
internal static class ComparisonsTable
{
    public static readonly CsvTable<ComparisonsRow> Table = new CsvTable<ComparisonsRow>(
        "tables/comparisons.csv",
        "Differences with Newcombe's interval, odds ratios within levels with the test of homogeneity, and trends",
        "One row is one comparison. difference: yes minus no. odds_ratio: pooled over the levels of another field. homogeneity: test that "
        + "the odds ratio is the same in each. trend: change of the proportion from one level to the next.")
        .Section(row => row.Section)
        .Measure(row => row.Measure).Period(row => StrataTable.Period(row.Section))
        .Word("stratum", "Field whose levels are compared.", row => row.Stratum)
        .Word("part", "Which comparison the row holds.", row => row.Part, "difference", "odds_ratio", "homogeneity", "trend")
        .Text("within", "Field within whose levels they are compared; empty for all records together.", row => row.Within)
        .Number("levels", "Number of levels that contribute.", row => row.Levels)
        .Interval("The difference of the proportions, the odds ratio, or the change a level.", row => row.Cells)
        .Method(row => row.Cells.Method)
        .Decimal("statistic", "Test statistic of homogeneity (chi-squared) or trend (Z).", row => row.Statistic)
        .Integer("degrees", "Degrees of freedom of the test.", row => row.Degrees)
        .Decimal(SharedColumns.Fraction("p_value", "P value of the test, not corrected for the number of tests."), row => row.PValue)
        .With(schema => schema with { Key = ["section", "measure", "period", "stratum", "part", "within"] });

    public static void Write(Func<string, string> place, IEnumerable<SectionFigures> sections) =>
        Table.Write(place, sections.SelectMany(Rows));

    private static IEnumerable<ComparisonsRow> Rows(SectionFigures section)
    {
        foreach (var each in section.Differences)
        {
            var found = each.Difference;
            yield return new(section, each.Measure.Id, each.Field, "difference", 2)
            {
                Cells = new(found.Value, found.Lower, found.Upper, found.Level * 100, found.Method),
            };
            foreach (var within in each.Within)
            {
                var ratio = within.OddsRatio;
                yield return new(section, each.Measure.Id, each.Field, "odds_ratio", within.Levels)
                {
                    Within = within.Field,
                    Cells = new(ratio.Value, ratio.Lower, ratio.Upper, ratio.Level * 100, ratio.Method),
                };
                if (within.Homogeneity is { } test)
                    yield return new(section, each.Measure.Id, each.Field, "homogeneity", within.Levels)
                    {
                        Within = within.Field,
                        Cells = new(null, null, null, null, "breslow_day_tarone"),
                        Statistic = test.Statistic,
                        Degrees = test.DegreesOfFreedom,
                        PValue = test.PValue,
                    };
            }
        }

        foreach (var each in section.Trends)
            yield return new(section, each.Measure.Id, each.Field, "trend", each.Levels.Length)
            {
                Cells = new(each.Trend.Slope, null, null, null, "cochran_armitage"),
                Statistic = each.Trend.Z,
                Degrees = 1,
                PValue = each.Trend.PValue,
            };
    }
}
