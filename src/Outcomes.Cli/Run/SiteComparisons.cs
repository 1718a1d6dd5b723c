using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Statistics;

namespace Outcomes.Cli.Run;

/// <summary>Headline proportions between sites, where the records hold more than one.</summary>
public static class SiteComparisons
{
    public static ImmutableArray<SiteComparison> Of(Figures figures, Engine engine, Month yearFrom)
    {
        if (engine.Levels(Capture.SiteField).Select(row => row.Level).Where(level => level is not null).Distinct().Count() < 2)
            return [];
        Measure[] headline =
            [.. figures.Catalogue.Measures.Where(measure => measure.Kind == MeasureKind.Proportion && figures.Pipeline.Headline.Any(word => word.Word == measure.Id))];
        var rows = engine.Count(headline, [Capture.SiteField]).Rows.Where(row => row.Stratum == Capture.SiteField && row.Month >= yearFrom && row.Month <= figures.Month).ToLookup(row => row.Measure);
        return [.. headline.Select(measure => One(measure, rows[measure.Id], yearFrom, figures.Month)).OfType<SiteComparison>()];
    }

    private static SiteComparison? One(Measure measure, IEnumerable<CountRow> rows, Month from, Month to)
    {
        var sums = rows.GroupBy(row => row.Level).ToDictionary(group => group.Key, group => group.Aggregate(default(Count), (sum, row) => sum + row.Count), StringComparer.Ordinal);
        ImmutableArray<GroupCount> sites = [.. sums.Where(pair => pair.Key != CountRow.MissingLevel).OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => new GroupCount(pair.Key, pair.Value))];
        ImmutableArray<GroupCount> judged = [.. sites.Where(site => site.Count.Eligible > 0)];
        if (judged.Length < 2)
            return null;
        return new(measure, from, to, Funnels.Analyse(sites), Spreads(judged) ? BetaBinomial.Shrink(judged) : null, Pooled(judged), sums.GetValueOrDefault(CountRow.MissingLevel));
    }

    // What the beta-binomial needs: some met, some not, and a site that has both.
    private static bool Spreads(ImmutableArray<GroupCount> sites) => sites.Any(site => site.Count.Met > 0 && site.Count.Met < site.Count.Eligible);

    private static PooledEffect Pooled(ImmutableArray<GroupCount> sites) => RandomEffects.Pool([.. sites.Select(site => ProportionScale.Logit(site.Count))]);
}
