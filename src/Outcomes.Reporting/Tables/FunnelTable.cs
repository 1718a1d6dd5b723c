using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A row of <c>funnel.csv</c>.</summary>
internal sealed record FunnelRow(SiteComparison Comparison, string Part, string Site, IntervalCells Cells)
{
    public Count? Count { get; init; }

    public string? Place { get; init; }

    public string? Doubts { get; init; }
}

/// <summary>The table of sites against the limits that chance allows them.</summary>
internal static class FunnelTable
{
    public static readonly CsvTable<FunnelRow> Table = new CsvTable<FunnelRow>(
        "tables/funnel.csv",
        "With records from several sites: headline measures against the limits of chance, not ranked",
        "For each measure first the rows of all sites (target, pooled, prediction, i_squared, overdispersion), then for each site, in the "
        + "order of its code, its estimate, its limits and its estimate shrunken towards the others.")
        .Measure(row => row.Comparison.Measure.Id).Period(row => $"{row.Comparison.From}/{row.Comparison.To}")
        .Word("part", "Which figure the row holds.", row => row.Part, "target", "pooled", "prediction", "i_squared", "overdispersion",
            "estimate", "limits_95", "limits_998", "shrunken")
        .Site(row => row.Site)
        .Interval("A proportion from 0 to 1; for i_squared a share, for overdispersion the factor phi. Empty for limits.",
            row => row.Cells)
        .Method(row => row.Cells.Method)
        .KnownCount(row => row.Count)
        .Text(new("place", ColumnType.Text, "Where the site's estimate lies; for estimates only.")
        { Allowed = ["inside", "outside_95", "outside_998"] }, row => row.Place)
        .Doubts(row => row.Doubts)
        .With(schema => schema with { Key = ["measure", "period", "part", "site"] });

    public static void Write(Func<string, string> place, IEnumerable<SiteComparison> comparisons) =>
        Table.Write(place, comparisons.SelectMany(each => Together(each).Concat(each.Funnel.Points.Zip(each.Estimates)
            .SelectMany(site => Site(each, site.First, site.Second)))));

    private static IEnumerable<FunnelRow> Together(SiteComparison each)
    {
        yield return new(each, "target", "all", new(each.Funnel.Target, null, null, null, "pooled_proportion"))
        {
            Count = each.Funnel.Points.Aggregate(default(Count), (sum, point) => sum + point.Count),
            Doubts = string.Join(' ', each.Funnel.Doubts.Select(ChartCautions.Name)),
        };
        if (each.Pooled is { } pooled)
        {
            yield return new(each, "pooled", "all",
                IntervalCells.Of(ProportionScale.FromLogit(pooled.Value), Back(pooled.HartungKnapp), "reml_hartung_knapp"));
            if (pooled.Prediction is { } prediction)
                yield return new(each, "prediction", "all", IntervalCells.Of(null, Back(prediction), "reml_prediction"));
            yield return new(each, "i_squared", "all", new(pooled.ISquared, null, null, null, "reml"));
        }

        if (each.Funnel.Dispersion is { } dispersion)
            yield return new(each, "overdispersion", "all", new(dispersion.Phi, null, null, null, "winsorised"));
    }

    private static IEnumerable<FunnelRow> Site(SiteComparison each, FunnelPoint point, Estimate? estimate)
    {
        yield return new(each, "estimate", point.Group, estimate is null
            ? default
            : IntervalCells.Of(estimate.Value, new(estimate.Lower, estimate.Upper), estimate.Method))
        {
            Count = point.Count,
            Place = Place(point.Place),
        };
        if (point.Limits is { } limits)
        {
            yield return new(each, "limits_95", point.Group, IntervalCells.Of(null, limits.Within95, "funnel_exact"));
            yield return new(each, "limits_998", point.Group, IntervalCells.Of(null, limits.Within998, "funnel_exact", 99.8));
        }

        if (each.Shrinkage?.Groups.FirstOrDefault(group => group.Group == point.Group) is { } shrunken)
            yield return new(each, "shrunken", point.Group, IntervalCells.Of(shrunken.Value, shrunken.Within, "beta_binomial"));
    }

    private static Bounds? Back(Bounds? logits) =>
        logits is { } ends ? new(ProportionScale.FromLogit(ends.Lower), ProportionScale.FromLogit(ends.Upper)) : null;

    private static string Place(FunnelPlace place) => place switch
    {
        FunnelPlace.Outside998 => "outside_998",
        FunnelPlace.Outside95 => "outside_95",
        _ => "inside",
    };
}
