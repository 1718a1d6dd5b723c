using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The sections of the report that strata answer, counted whatever strata the pipeline asks for.</summary>
internal static class StratifiedSections
{
    /// <summary>The answer to a section; null where no measure of it is collected, or there are fewer than 12 months.</summary>
    public static StratifiedSection? Analyse(StrataPlan plan, DepartmentCounts department)
    {
        if (!department.Sections.TryGetValue(plan.Id, out var counted))
            return null;
        var (from, to) = (counted.From, department.Month);
        var measures = plan.Proportions(department.Plan);
        var rows = Summed(counted.Counts.Rows, from, to);
        SplitField[] fields = [.. plan.Fields.Where(field => counted.Fields.Contains(field.Field)
            && !counted.Counts.StrataNotCollected.Contains(field.Field))];
        ImmutableArray<StratifiedMeasure> found =
            [.. measures.Where(measure => rows.ContainsKey((measure.Id, CountRow.All))).Select(measure => One(measure, fields, rows))];
        return found.IsEmpty ? null : new(plan.Id, from, to)
        {
            Measures = found,
            Quantities = Quantities(plan, fields, department, counted),
            Differences = Differences(plan, measures, fields, counted, rows, to),
            Trends = Trends(plan, found, fields, rows),
            NotCollected = [.. plan.Fields.Where(field => !fields.Contains(field)).Select(field => field.Title)],
        };
    }

    private static Dictionary<(string Measure, string Stratum), Dictionary<string, Count>> Summed(
        IEnumerable<CountRow> rows, Month from, Month to) =>
            rows.Where(row => row.Month >= from && row.Month <= to).GroupBy(row => (row.Measure, row.Stratum))
                .ToDictionary(group => group.Key, group => Levels(group));

    private static Dictionary<string, Count> Levels(IEnumerable<CountRow> rows) =>
        rows.GroupBy(row => row.Level).ToDictionary(group => group.Key,
            group => group.Aggregate(default(Count), (sum, row) => sum + row.Count), StringComparer.Ordinal);

    private static StratifiedMeasure One(Measure measure, SplitField[] fields, Dictionary<(string, string), Dictionary<string, Count>> rows)
    {
        var all = rows[(measure.Id, CountRow.All)][CountRow.All];
        return new(measure, all, Proportion.Estimate(all),
            [.. fields.Where(field => rows.ContainsKey((measure.Id, field.Field)) && StratumFigures.Allowed(measure, field.Field))
                .Select(field => WithKnown(StratumFigures.Of(field.Field, field.Title, Ordered(field, rows[(measure.Id, field.Field)].Keys)
                    .Select(level => (level, rows[(measure.Id, field.Field)][level])), count => Proportion.Estimate(count)),
                    rows.GetValueOrDefault((Known(measure), field.Field))))])
        {
            Known = rows.GetValueOrDefault((Known(measure), CountRow.All)) is { } known ? known.GetValueOrDefault(CountRow.All) : null,
        };
    }

    private static string Known(Measure measure) => measure.Id + ".known";

    /// <summary>The reading of those that say, level by level; merged levels are what remains.</summary>
    private static StratumFigures WithKnown(StratumFigures stratum, Dictionary<string, Count>? known) =>
        known is null ? stratum : stratum with
        {
            Levels = [.. stratum.Levels.Select(level => level with
            {
                Known = level.Level == StratumFigures.Other
                    ? known.Where(each => stratum.Levels.All(kept => kept.Level != each.Key))
                        .Aggregate(default(Count), (sum, each) => sum + each.Value)
                    : known.GetValueOrDefault(level.Level),
            })],
        };

    private static IEnumerable<string> Ordered(SplitField field, IEnumerable<string> levels) =>
        levels.OrderBy(level => Array.IndexOf(field.Levels, level) is var at && at < 0 ? int.MaxValue : at)
            .ThenBy(level => level, StringComparer.Ordinal);

    private static ImmutableArray<StratifiedQuantity> Quantities(
        StrataPlan plan, SplitField[] fields, DepartmentCounts department, SectionCounts counted)
    {
        if (fields.Length == 0)
            return [];
        var rows = counted.Values.Rows.Where(row => row.Month >= counted.From && row.Month <= department.Month)
            .ToLookup(row => (row.Measure, row.Stratum));
        return
        [
            .. from measure in plan.SplitQuantities(department.Plan)
               from field in fields
               where rows[(measure.Id, field.Field)].Any()
               select Quantity(measure, field, rows[(measure.Id, field.Field)]),
        ];
    }

    // Levels with fewer records than a proportion may have are merged likewise.
    private static StratifiedQuantity Quantity(Measure measure, SplitField field, IEnumerable<ValueRow> rows)
    {
        var byLevel = rows.ToLookup(row => row.Level);
        var few = byLevel.Where(level => level.Sum(row => row.N) < StratumFigures.LeastRecords).Select(level => level.Key).ToHashSet();
        var kept = Ordered(field, byLevel.Select(level => level.Key).Where(level => !few.Contains(level)))
            .OrderBy(level => level == CountRow.MissingLevel)
            .Select(level => Of(level, byLevel[level]));
        return new(measure, field.Field, field.Title,
            few.Count == 0 ? [.. kept] : [.. kept, Of(StratumFigures.Other, few.SelectMany(level => byLevel[level]))]);

        static LevelQuantity Of(string level, IEnumerable<ValueRow> rows)
        {
            var (known, missing) =
                (rows.Where(row => row.Value is not null).ToArray(), rows.Where(row => row.Value is null).Sum(row => row.N));
            var n = known.Sum(row => row.N);
            return new(level, n < StratumFigures.LeastRecords
                ? null
                : QuantitySummary.Of(known.Select(row => ((long)row.Value!.Value, row.N)), missing), n, missing);
        }
    }

    private static ImmutableArray<LevelDifference> Differences(
        StrataPlan plan, ImmutableArray<Measure> measures, SplitField[] fields, SectionCounts counted,
        Dictionary<(string, string), Dictionary<string, Count>> rows, Month to)
    {
        if (plan.Compare is not var (field, _) || !fields.Contains(field))
            return [];
        SplitField[] within = [.. plan.Within.Where(other => counted.Within.Contains(other.Field))];
        var halves = Summed(counted.Halves.Rows, counted.From, to);
        return [.. plan.Compared(measures).Select(One).OfType<LevelDifference>()];

        LevelDifference? One(Measure measure)
        {
            if (rows.GetValueOrDefault((measure.Id, field.Field)) is not { } levels)
                return null;
            var (yes, no) = (levels.GetValueOrDefault("yes"), levels.GetValueOrDefault("no"));
            if (yes.Eligible < StratumFigures.LeastRecords || no.Eligible < StratumFigures.LeastRecords
                || Difference.Newcombe(yes, no) is not { } difference)
                return null;
            return new(measure, field.Field, "yes", "no", difference)
            {
                Within = [.. within.Select(other => Pooled(measure, other)).OfType<WithinLevels>()]
            };
        }

        WithinLevels? Pooled(Measure measure, SplitField other)
        {
            var (yes, no) = (halves.GetValueOrDefault((StrataPlan.Half(measure, "yes"), other.Field)) ?? [],
                halves.GetValueOrDefault((StrataPlan.Half(measure, "no"), other.Field)) ?? []);
            (Count, Count)[] pairs =
                [.. Ordered(other, yes.Keys.Union(no.Keys)).Select(level => (yes.GetValueOrDefault(level), no.GetValueOrDefault(level)))];
            var both = pairs.Count(pair => pair.Item1.Eligible > 0 && pair.Item2.Eligible > 0);
            return both < 2 || MantelHaenszel.OddsRatio(pairs) is not { Value: > 0 and < double.PositiveInfinity } pooled
                ? null
                : new(other.Field, other.Title, both, pooled, BreslowDay.Test(pairs));
        }
    }

    private static ImmutableArray<LevelTrend> Trends(
        StrataPlan plan, ImmutableArray<StratifiedMeasure> measures, SplitField[] fields,
        Dictionary<(string, string), Dictionary<string, Count>> rows)
    {
        var measure = measures[0].Measure;
        if (fields.FirstOrDefault(field => field.Field == plan.Trend) is not { } ordered
            || rows.GetValueOrDefault((measure.Id, ordered.Field)) is not { } levels)
            return [];
        Count[] groups = [.. ordered.Levels.Select(level => levels.GetValueOrDefault(level))];
        return Trend.Test(groups, [.. Enumerable.Range(1, groups.Length).Select(score => (double)score)]) is { } trend
            ? [new(measure, ordered.Field, ordered.Title, [.. ordered.Levels], groups.Aggregate((sum, group) => sum + group), trend)]
            : [];
    }
}
