using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The tables of the sections that strata answer. Levels with few records are merged in them as on the page.</summary>
public static class StrataTables
{
    public static readonly ImmutableArray<string> Columns =
        ["section", "measure", "period", "stratum", "level", "met", "eligible", "missing", "value", "lower", "upper", "level_pct", "method"
        ];

    public static readonly ImmutableArray<string> ComparisonColumns =
    [
        "section", "measure", "period", "stratum", "part", "within", "levels", "value", "lower", "upper", "level_pct", "method",
        "statistic", "degrees", "p_value",
    ];

    /// <summary>
    /// A row a level; the measure as a whole first, as <c>all</c>. Where what is not recorded counts as not done, the reading of those that
    /// say follows as <c>.known</c>.
    /// </summary>
    public static void Write(string path, IEnumerable<SectionFigures> sections) => TableWriter.ToFile(path, Columns, table =>
    {
        foreach (var section in sections)
            foreach (var measure in section.Measures)
            {
                Rows(section, measure.Measure.Id, "all", "all", (measure.All, measure.Estimate), (measure.Known, measure.KnownEstimate));
                foreach (var stratum in measure.Strata)
                    foreach (var level in stratum.Levels)
                        Rows(section, measure.Measure.Id, stratum.Field, level.Level, (level.Count, level.Estimate),
                            (level.Known, level.KnownEstimate));
            }

        void Rows(SectionFigures section, string measure, string stratum, string level, (Count Count, Estimate? Estimate) whole,
            (Count? Count, Estimate? Estimate) known)
        {
            Row(section, measure, stratum, level, whole.Count, whole.Estimate);
            if (known.Count is { } said)
                Row(section, measure + ".known", stratum, level, said, known.Estimate);
        }

        void Row(SectionFigures section, string measure, string stratum, string level, Count count, Estimate? estimate) =>
            table.Text(section.Id).Text(measure).Text(Period(section)).Text(stratum).Text(level).Integer(count.Met)
                .Integer(count.Eligible).Integer(count.Missing)
                .Number(estimate?.Value).Number(estimate?.Lower).Number(estimate?.Upper).Number(estimate?.Level * 100)
                .Text(estimate?.Method).End();
    });

    /// <summary>
    /// Rows of each measure: <c>difference</c> (yes minus no), then for each field within whose levels they are compared <c>odds_ratio</c>
    /// and <c>homogeneity</c>; and <c>trend</c>, whose value is the change of the proportion a level and whose statistic is Z.
    /// <c>levels</c>: how many of them tell something.
    /// </summary>
    public static void Comparisons(string path, IEnumerable<SectionFigures> sections) =>
        TableWriter.ToFile(path, ComparisonColumns, table =>
        {
            foreach (var section in sections)
            {
                foreach (var each in section.Differences)
                {
                    Start(section, each.Measure.Id, each.Field, "difference", "", 2);
                    var found = each.Difference;
                    table.Number(found.Value).Number(found.Lower).Number(found.Upper).Number(found.Level * 100).Text(found.Method)
                        .Empty().Empty().Empty().End();
                    foreach (var within in each.Within)
                    {
                        Start(section, each.Measure.Id, each.Field, "odds_ratio", within.Field, within.Levels);
                        table.Number(within.OddsRatio.Value).Number(within.OddsRatio.Lower).Number(within.OddsRatio.Upper)
                            .Number(within.OddsRatio.Level * 100).Text(within.OddsRatio.Method).Empty().Empty().Empty().End();
                        if (within.Homogeneity is not { } test)
                            continue;
                        Start(section, each.Measure.Id, each.Field, "homogeneity", within.Field, within.Levels);
                        table.Empty().Empty().Empty().Empty().Text("breslow_day_tarone").Number(test.Statistic)
                            .Integer(test.DegreesOfFreedom).Number(test.PValue).End();
                    }
                }

                foreach (var each in section.Trends)
                {
                    Start(section, each.Measure.Id, each.Field, "trend", "", each.Levels.Length);
                    table.Number(each.Trend.Slope).Empty().Empty().Empty().Text("cochran_armitage").Number(each.Trend.Z).Integer(1)
                        .Number(each.Trend.PValue).End();
                }
            }

            void Start(SectionFigures section, string measure, string stratum, string part, string within, int levels) =>
                table.Text(section.Id).Text(measure).Text(Period(section)).Text(stratum).Text(part).Text(within).Integer(levels);
        });

    internal static string Period(SectionFigures section) => $"{section.From}/{section.To}";
}
