using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Headline proportions between sites, where the records hold more than one.</summary>
public static class SiteComparisons
{
    /// <summary>The proportions that are compared.</summary>
    public static ImmutableArray<Measure> Compared(AnalysisPlan plan) =>
        [.. plan.Definitions.Measures.Where(measure => measure.Kind == MeasureKind.Proportion && plan.IsHeadline(measure))];

    /// <summary>One comparison a measure; none where there are fewer than two sites.</summary>
    public static ImmutableArray<SiteComparison> Analyse(DepartmentCounts department)
    {
        var (from, to) = (department.YearFrom, department.Month);
        var rows = department.Sites.Where(row => row.Stratum != CountRow.All && row.Month >= from && row.Month <= to)
            .ToLookup(row => row.Measure);
        return [.. Compared(department.Plan).Select(measure => Compare(measure, rows[measure.Id], from, to)).OfType<SiteComparison>()];
    }

    private static SiteComparison? Compare(Measure measure, IEnumerable<CountRow> rows, Month from, Month to)
    {
        var sums = rows.GroupBy(row => row.Level).ToDictionary(group => group.Key,
            group => group.Aggregate(default(Count), (sum, row) => sum + row.Count), StringComparer.Ordinal);
        ImmutableArray<GroupCount> sites = [.. sums.Where(pair => pair.Key != CountRow.MissingLevel)
            .OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => new GroupCount(pair.Key, pair.Value))];
        ImmutableArray<GroupCount> judged = [.. sites.Where(site => site.Count.Eligible > 0)];
        if (judged.Length < 2)
            return null;
        return new(measure, from, to, Funnels.Analyse(sites), Spreads(judged) ? BetaBinomial.Shrink(judged) : null, Pooled(judged),
            sums.GetValueOrDefault(CountRow.MissingLevel));
    }

    // What the beta-binomial needs: some met, some not, and a site that has both.
    private static bool Spreads(ImmutableArray<GroupCount> sites) =>
        sites.Any(site => site.Count.Met > 0 && site.Count.Met < site.Count.Eligible);

    private static PooledEffect Pooled(ImmutableArray<GroupCount> sites) =>
        RandomEffects.Pool([.. sites.Select(site => ProportionScale.Logit(site.Count))]);
}
