using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Statistics;

namespace Outcomes.Cli.Run;

/// <summary>The sections of the report that strata answer, counted whatever strata the pipeline asks for.</summary>
internal static class StratifiedSections
{
    // Split over less, a group could point at a person.
    private const int LeastMonths = 12;

    /// <summary>The answer to a section; null where no measure of it is collected, or there are fewer than 12 months.</summary>
    public static StratifiedSection? Of(StrataPlan plan, Figures figures, Engine engine)
    {
        var (first, to) = (figures.Book.First, figures.Month);
        var from = to.AddMonths(1 - plan.Months) < first ? first : to.AddMonths(1 - plan.Months);
        if (to.MonthsSince(from) + 1 < LeastMonths)
            return null;
        var measures = Measures(plan, figures);
        SplitField[] fields = [.. plan.Fields.Where(field => engine.Knows(field.Field))];
        if (measures.Length == 0 || fields.Length == 0)
            return null;
        var counts = engine.Count(measures, [.. fields.Select(field => field.Field)]);
        var rows = counts.Rows.Where(row => row.Month >= from && row.Month <= to)
            .GroupBy(row => (row.Measure, row.Stratum)).ToDictionary(group => group.Key, group => Levels(group));
        fields = [.. fields.Where(field => !counts.StrataNotCollected.Contains(field.Field))];
        ImmutableArray<StratifiedMeasure> found = [.. measures.Where(measure => rows.ContainsKey((measure.Id, CountRow.All))).Select(measure => One(measure, fields, rows))];
        return found.IsEmpty ? null : new(plan.Id, from, to)
        {
            Measures = found,
            Quantities = Quantities(plan, fields, figures, engine, from),
            Differences = Differences(plan, measures, fields, engine, rows, from, to),
            Trends = Trends(plan, found, fields, rows),
            NotCollected = [.. plan.Fields.Where(field => !fields.Contains(field)).Select(field => field.Title)],
        };
    }

    private static Measure[] Measures(StrataPlan plan, Figures figures)
    {
        var asked = (plan.Measures ?? [.. figures.Pipeline.Headline.Select(word => word.Word)]).Concat(plan.Also).Distinct();
        var measures = asked.Select(id => figures.Catalogue.Measures.FirstOrDefault(measure => measure.Id == id && measure.Kind == MeasureKind.Proportion)).OfType<Measure>();
        return [.. plan.Among is { } among ? measures.Select(measure => measure with { Eligible = $"({measure.Eligible}) and {among}" }) : measures];
    }

    private static Dictionary<string, Count> Levels(IEnumerable<CountRow> rows) =>
        rows.GroupBy(row => row.Level).ToDictionary(group => group.Key, group => group.Aggregate(default(Count), (sum, row) => sum + row.Count), StringComparer.Ordinal);

    private static StratifiedMeasure One(Measure measure, SplitField[] fields, Dictionary<(string, string), Dictionary<string, Count>> rows)
    {
        var all = rows[(measure.Id, CountRow.All)][CountRow.All];
        return new(measure, all, Proportion.Estimate(all),
            [.. fields.Where(field => rows.ContainsKey((measure.Id, field.Field)) && StratumReport.Allowed(measure, field.Field)).Select(field => WithKnown(StratumReport.Of(field.Field, field.Title,
                Ordered(field, rows[(measure.Id, field.Field)].Keys).Select(level => (level, rows[(measure.Id, field.Field)][level])), count => Proportion.Estimate(count)),
                rows.GetValueOrDefault((Known(measure), field.Field))))])
        {
            Known = rows.GetValueOrDefault((Known(measure), CountRow.All)) is { } known ? known.GetValueOrDefault(CountRow.All) : null,
        };
    }

    private static string Known(Measure measure) => measure.Id + ".known";

    /// <summary>The reading of those that say, level by level; merged levels are what remains.</summary>
    private static StratumReport WithKnown(StratumReport stratum, Dictionary<string, Count>? known) => known is null ? stratum : stratum with
    {
        Levels = [.. stratum.Levels.Select(level => level with
        {
            Known = level.Level == StratumReport.Other
                ? known.Where(each => stratum.Levels.All(kept => kept.Level != each.Key)).Aggregate(default(Count), (sum, each) => sum + each.Value)
                : known.GetValueOrDefault(level.Level),
        })],
    };

    private static IEnumerable<string> Ordered(SplitField field, IEnumerable<string> levels) =>
        levels.OrderBy(level => Array.IndexOf(field.Levels, level) is var at && at < 0 ? int.MaxValue : at).ThenBy(level => level, StringComparer.Ordinal);

    private static ImmutableArray<StratifiedQuantity> Quantities(StrataPlan plan, SplitField[] fields, Figures figures, Engine engine, Month from)
    {
        Measure[] asked = [.. figures.Catalogue.Measures.Where(measure => measure.Kind == MeasureKind.Quantity && plan.Quantities.Contains(measure.Id))];
        if (asked.Length == 0 || fields.Length == 0)
            return [];
        var rows = engine.Values(asked, [.. fields.Select(field => field.Field)]).Rows.Where(row => row.Month >= from && row.Month <= figures.Month)
            .ToLookup(row => (row.Measure, row.Stratum));
        return [.. from measure in asked from field in fields where rows[(measure.Id, field.Field)].Any() select Quantity(measure, field, rows[(measure.Id, field.Field)])];
    }

    // Levels with fewer records than a proportion may have are merged likewise.
    private static StratifiedQuantity Quantity(Measure measure, SplitField field, IEnumerable<ValueRow> rows)
    {
        var byLevel = rows.ToLookup(row => row.Level);
        var few = byLevel.Where(level => level.Sum(row => row.N) < StratumReport.LeastRecords).Select(level => level.Key).ToHashSet();
        var kept = Ordered(field, byLevel.Select(level => level.Key).Where(level => !few.Contains(level))).OrderBy(level => level == CountRow.MissingLevel)
            .Select(level => Of(level, byLevel[level]));
        return new(measure, field.Field, field.Title, few.Count == 0 ? [.. kept] : [.. kept, Of(StratumReport.Other, few.SelectMany(level => byLevel[level]))]);

        static LevelQuantity Of(string level, IEnumerable<ValueRow> rows)
        {
            var (known, missing) = (rows.Where(row => row.Value is not null).ToArray(), rows.Where(row => row.Value is null).Sum(row => row.N));
            var n = known.Sum(row => row.N);
            return new(level, n < StratumReport.LeastRecords ? null : QuantitySummary.Of(known.Select(row => ((long)row.Value!.Value, row.N)), missing), n, missing);
        }
    }

    private static ImmutableArray<LevelDifference> Differences(
        StrataPlan plan, Measure[] measures, SplitField[] fields, Engine engine, Dictionary<(string, string), Dictionary<string, Count>> rows, Month from, Month to)
    {
        if (plan.Compare is not var (field, named) || !fields.Contains(field))
            return [];
        Measure[] compared = [.. measures.Where(measure => named is not { } ids || ids.Contains(measure.Id))];
        SplitField[] within = [.. plan.Within.Where(other => engine.Knows(other.Field))];
        // The whole and each half: a measure asked of the records of one level alone can be split by a second field.
        var halves = engine.Count([.. compared.SelectMany(measure => new[] { Half(measure, "yes", field.Field), Half(measure, "no", $"not {field.Field}") })], [.. within.Select(other => other.Field)])
            .Rows.Where(row => row.Month >= from && row.Month <= to).GroupBy(row => (row.Measure, row.Stratum)).ToDictionary(group => group.Key, group => Levels(group));
        return [.. compared.Select(One).OfType<LevelDifference>()];

        LevelDifference? One(Measure measure)
        {
            if (rows.GetValueOrDefault((measure.Id, field.Field)) is not { } levels)
                return null;
            var (yes, no) = (levels.GetValueOrDefault("yes"), levels.GetValueOrDefault("no"));
            if (yes.Eligible < StratumReport.LeastRecords || no.Eligible < StratumReport.LeastRecords || Difference.Newcombe(yes, no) is not { } difference)
                return null;
            return new(measure, field.Field, "yes", "no", difference) { Within = [.. within.Select(other => Pooled(measure, other)).OfType<WithinLevels>()] };
        }

        WithinLevels? Pooled(Measure measure, SplitField other)
        {
            var (yes, no) = (halves.GetValueOrDefault((Name(measure, "yes"), other.Field)) ?? [], halves.GetValueOrDefault((Name(measure, "no"), other.Field)) ?? []);
            (Count, Count)[] pairs = [.. Ordered(other, yes.Keys.Union(no.Keys)).Select(level => (yes.GetValueOrDefault(level), no.GetValueOrDefault(level)))];
            var both = pairs.Count(pair => pair.Item1.Eligible > 0 && pair.Item2.Eligible > 0);
            return both < 2 || MantelHaenszel.OddsRatio(pairs) is not { Value: > 0 and < double.PositiveInfinity } pooled ? null : new(other.Field, other.Title, both, pooled, BreslowDay.Test(pairs));
        }
    }

    private static Measure Half(Measure measure, string name, string condition) => measure with { Id = Name(measure, name), Eligible = $"({measure.Eligible}) and {condition}" };

    private static string Name(Measure measure, string half) => $"{measure.Id} {half}";

    private static ImmutableArray<LevelTrend> Trends(
        StrataPlan plan, ImmutableArray<StratifiedMeasure> measures, SplitField[] fields, Dictionary<(string, string), Dictionary<string, Count>> rows)
    {
        var measure = measures[0].Measure;
        if (fields.FirstOrDefault(field => field.Field == plan.Trend) is not { } ordered || rows.GetValueOrDefault((measure.Id, ordered.Field)) is not { } levels)
            return [];
        Count[] groups = [.. ordered.Levels.Select(level => levels.GetValueOrDefault(level))];
        return Trend.Test(groups, [.. Enumerable.Range(1, groups.Length).Select(score => (double)score)]) is { } trend
            ? [new(measure, ordered.Field, ordered.Title, [.. ordered.Levels], groups.Aggregate((sum, group) => sum + group), trend)]
            : [];
    }
}
