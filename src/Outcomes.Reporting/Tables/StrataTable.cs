using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>strata.csv</c>.</summary>
internal sealed record StrataRow(
    SectionFigures Section, string Measure, string Stratum, string Level, Count Count, Estimate? Estimate);

/// <summary><c>strata.csv</c>: the splits of the report's sections.</summary>
internal static class StrataTable
{
    public static readonly CsvTable<StrataRow> Table = new CsvTable<StrataRow>(
        "tables/strata.csv",
        "The splits of the report's sections, with the plain interval beside; small levels are merged as on the page",
        "One row is one level of a stratum; the measure as a whole comes first, as all. Where an answer that is not recorded counts as not "
        + "done, known answers only follow under the id with .known. Where months vary more than chance alone the interval is "
        + "wider than the plain one.")
        .Section(row => row.Section)
        .Measure(row => row.Measure).Period(row => Period(row.Section)).Stratum(row => row.Stratum)
        .Word("level", "Value of that field; (missing) where it is missing; (other) for merged small levels; all without a split.",
            row => row.Level)
        .Count(row => row.Count)
        .Proportion(row => IntervalCells.Of(row.Estimate)).Method(row => row.Estimate?.Method)
        .Decimal(SharedColumns.Fraction("plain_lower", "Lower end of the plain Wilson interval."),
            row => VaryingMonths.Plain(row.Estimate)?.Lower)
        .Decimal(SharedColumns.Fraction("plain_upper", "Upper end of it."), row => VaryingMonths.Plain(row.Estimate)?.Upper)
        .With(schema => schema with { Key = ["section", "measure", "period", "stratum", "level"] });

    public static void Write(Func<string, string> place, IEnumerable<SectionFigures> sections) => Table.Write(place, sections.SelectMany(
        section => section.Measures.SelectMany(measure => Rows(section, measure))));

    internal static string Period(SectionFigures section) => $"{section.From}/{section.To}";

    internal static CsvTable<T> Section<T>(this CsvTable<T> table, Func<T, SectionFigures> cell)
        where T : allows ref struct => table.Word("section", "Id of the section of the report.", row => cell(row).Id);

    private static IEnumerable<StrataRow> Rows(SectionFigures section, StratifiedMeasure measure)
    {
        yield return new(section, measure.Measure.Id, "all", "all", measure.All, measure.Estimate);
        if (measure.Known is { } all)
            yield return new(section, Known(measure), "all", "all", all, measure.KnownEstimate);
        foreach (var stratum in measure.Strata)
            foreach (var level in stratum.Levels)
            {
                yield return new(section, measure.Measure.Id, stratum.Field, level.Level, level.Count, level.Estimate);
                if (level.Known is { } known)
                    yield return new(section, Known(measure), stratum.Field, level.Level, known, level.KnownEstimate);
            }
    }

    private static string Known(StratifiedMeasure measure) => measure.Measure.Id + ".known";
}
