using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The sections of the report, counted whatever strata the pipeline asks for.</summary>
internal static class AnalyseSection
{
    /// <summary>The answers to every section of the plan, in its order; one that cannot be answered says what is not collected.</summary>
    /// <param name="department">What was counted.</param>
    /// <param name="measures">The measures' own figures, for sections that list them.</param>
    public static ImmutableArray<SectionFigures> All(DepartmentCounts department, ImmutableArray<MeasureFigures> measures) =>
        [.. department.Plan.Definitions.Sections.Select(section => !section.Agreement.IsEmpty ? Agree(section, department)
            : section.Strata.IsEmpty ? List(section, department, measures)
            : Split(section, department)).OfType<SectionFigures>()];

    private static SectionFigures Agree(SectionDefinition section, DepartmentCounts department) =>
        new(section, department.Book.First, department.Month) { Agreements = Agreements.Analyse(section, department) };

    private static SectionFigures List(SectionDefinition section, DepartmentCounts department, ImmutableArray<MeasureFigures> measures) =>
        new(section, department.YearFrom, department.Month)
        {
            Listed = [.. SectionMeasures.Proportions(section, department.Plan)
                .Concat(SectionMeasures.Quantities(section, department.Plan))
                .Select(asked => measures.First(measure => measure.Measure.Id == asked.Id))],
        };

    // Null where no measure of it is collected, or there are fewer than 12 months.
    private static SectionFigures? Split(SectionDefinition section, DepartmentCounts department)
    {
        if (!department.Sections.TryGetValue(section.Id, out var counted))
            return null;
        var (from, to, titles) = (counted.From, department.Month, department.Plan.Titles);
        var measures = SectionMeasures.Proportions(section, department.Plan);
        var rows = Summed(counted.Counts.Rows, from, to);
        var book = new SeriesBook(counted.Counts.Rows, from, to);
        string[] fields = [.. section.Strata.Where(field => counted.Fields.Contains(field)
            && !counted.Counts.StrataNotCollected.Contains(field))];
        ImmutableArray<StratifiedMeasure> found =
        [
            .. measures.Where(measure => rows.ContainsKey((measure.Id, CountRow.All)))
                .Select(measure => StratifiedAnalysis.Of(measure, fields, book, titles)),
        ];
        return found.IsEmpty ? null : new(section, from, to)
        {
            Measures = found,
            Quantities = Quantities(section, fields, department, counted),
            Differences = Differences(section, measures, fields, department, counted, rows),
            Trends = Trends(section, found, fields, rows, titles),
            NotCollected = [.. section.Strata.Where(field => !fields.Contains(field))],
        };
    }

    private static Dictionary<(string Measure, string Stratum), Dictionary<string, Count>> Summed(
        IEnumerable<CountRow> rows, Month from, Month to) =>
            rows.Where(row => row.Month >= from && row.Month <= to).GroupBy(row => (row.Measure, row.Stratum))
                .ToDictionary(group => group.Key, group => Levels(group));

    private static Dictionary<string, Count> Levels(IEnumerable<CountRow> rows) =>
        rows.GroupBy(row => row.Level).ToDictionary(group => group.Key,
            group => group.Aggregate(default(Count), (sum, row) => sum + row.Count), StringComparer.Ordinal);

    internal static IEnumerable<string> Ordered(Titles titles, string field, IEnumerable<string> levels) =>
        levels.OrderBy(level => titles.Order(field).IndexOf(level) is var at && at < 0 ? int.MaxValue : at)
            .ThenBy(level => level, StringComparer.Ordinal);

    private static ImmutableArray<StratifiedQuantity> Quantities(
        SectionDefinition section, string[] fields, DepartmentCounts department, SectionCounts counted)
    {
        if (fields.Length == 0)
            return [];
        var rows = counted.Values.Rows.Where(row => row.Month >= counted.From && row.Month <= department.Month)
            .ToLookup(row => (row.Measure, row.Stratum));
        return
        [
            .. from measure in SectionMeasures.Quantities(section, department.Plan)
               from field in fields
               where rows[(measure.Id, field)].Any()
               select Quantity(measure, field, rows[(measure.Id, field)], department.Plan.Titles),
        ];
    }

    // Levels with fewer records than a proportion may have are merged likewise.
    internal static StratifiedQuantity Quantity(Measure measure, string field, IEnumerable<ValueRow> rows, Titles titles)
    {
        var byLevel = rows.ToLookup(row => row.Level);
        var few = byLevel.Where(level => level.Sum(row => row.N) < StratumFigures.LeastRecords).Select(level => level.Key).ToHashSet();
        var kept = Ordered(titles, field, byLevel.Select(level => level.Key).Where(level => !few.Contains(level)))
            .OrderBy(level => level == CountRow.MissingLevel)
            .Select(level => Of(level, byLevel[level]));
        return new(measure, field,
            few.Count == 0 ? [.. kept] : [.. kept, Of(StratumFigures.Other, few.SelectMany(level => byLevel[level]))]);

        LevelQuantity Of(string level, IEnumerable<ValueRow> found)
        {
            ValueRow[] rows = [.. found];
            var n = rows.Where(row => row.Value is not null).Sum(row => row.N);
            var summary = n < StratumFigures.LeastRecords ? null : QuantitySummary.Of(rows, measure);
            return new(level, summary, n, QuantitySummary.CountMissing(rows))
            {
                Unrecordable = QuantitySummary.CountUnrecordable(rows),
            };
        }
    }

    private static ImmutableArray<LevelDifference> Differences(
        SectionDefinition section, ImmutableArray<Measure> measures, string[] fields, DepartmentCounts department, SectionCounts counted,
        Dictionary<(string, string), Dictionary<string, Count>> rows)
    {
        if (section.Compare is not { } compare || !fields.Contains(compare.By))
            return [];
        var halves = Summed(counted.Halves.Rows, counted.From, department.Month);
        return [.. SectionMeasures.Compared(compare, measures).Select(One).OfType<LevelDifference>()];

        LevelDifference? One(Measure measure)
        {
            if (rows.GetValueOrDefault((measure.Id, compare.By)) is not { } levels)
                return null;
            var (yes, no) = (levels.GetValueOrDefault("yes"), levels.GetValueOrDefault("no"));
            if (yes.Eligible < StratumFigures.LeastRecords || no.Eligible < StratumFigures.LeastRecords
                || Difference.Newcombe(yes, no) is not { } difference)
                return null;
            return new(measure, compare.By, "yes", "no", difference)
            {
                Within = [.. counted.Within.Select(other => Pooled(measure, other)).OfType<WithinLevels>()]
            };
        }

        WithinLevels? Pooled(Measure measure, string other)
        {
            var (yes, no) = (halves.GetValueOrDefault((SectionMeasures.Half(measure, "yes"), other)) ?? [],
                halves.GetValueOrDefault((SectionMeasures.Half(measure, "no"), other)) ?? []);
            (Count, Count)[] pairs = [.. Ordered(department.Plan.Titles, other, yes.Keys.Union(no.Keys))
                .Select(level => (yes.GetValueOrDefault(level), no.GetValueOrDefault(level)))];
            var both = pairs.Count(pair => pair.Item1.Eligible > 0 && pair.Item2.Eligible > 0);
            return both < 2 || MantelHaenszel.OddsRatio(pairs) is not { Value: > 0 and < double.PositiveInfinity } pooled
                ? null
                : new(other, both, pooled, BreslowDay.Test(pairs));
        }
    }

    private static ImmutableArray<LevelTrend> Trends(
        SectionDefinition section, ImmutableArray<StratifiedMeasure> measures, string[] fields,
        Dictionary<(string, string), Dictionary<string, Count>> rows, Titles titles)
    {
        var measure = measures[0].Measure;
        if (section.Trend is not { } field || !fields.Contains(field) || rows.GetValueOrDefault((measure.Id, field)) is not { } levels)
            return [];
        var order = titles.Order(field);
        Count[] groups = [.. order.Select(level => levels.GetValueOrDefault(level))];
        return groups.Length > 1
            && Trend.Test(groups, [.. Enumerable.Range(1, groups.Length).Select(score => (double)score)]) is { } trend
            ? [new(measure, field, order, groups.Aggregate((sum, group) => sum + group), trend)]
            : [];
    }
}
