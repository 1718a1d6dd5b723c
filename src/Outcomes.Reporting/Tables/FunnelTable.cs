using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The table of sites against the limits that chance allows them.</summary>
public static class FunnelTable
{
    public static readonly ImmutableArray<string> Columns =
        [
            "measure", "period", "part", "site", "value", "lower", "upper", "level_pct", "method", "met", "eligible", "missing", "place",
            "doubts"
        ];

    /// <summary>
    /// Of each measure for all sites: <c>target</c> (the pooled proportion), <c>pooled</c> and <c>prediction</c> (random effects on log
    /// odds, turned back), <c>overdispersion</c> (φ), <c>i_squared</c>; then by site, in the order of its code: <c>estimate</c>,
    /// <c>limits_95</c>, <c>limits_998</c> and <c>shrunken</c>.
    /// </summary>
    public static void Write(string path, IEnumerable<SiteComparison> rows) => TableWriter.ToFile(path, Columns, table =>
    {
        foreach (var each in rows)
        {
            var period = $"{each.From}/{each.To}";
            var all = each.Funnel.Points.Aggregate(default(Count), (sum, point) => sum + point.Count);
            Row("target", "all", each.Funnel.Target, null, null, "pooled_proportion", all, "",
                string.Join(' ', each.Funnel.Doubts.Select(ChartCautions.Name)));
            if (each.Pooled is { } pooled)
            {
                Row("pooled", "all", ProportionScale.FromLogit(pooled.Value), Back(pooled.HartungKnapp), 95, "reml_hartung_knapp", null);
                if (pooled.Prediction is { } prediction)
                    Row("prediction", "all", null, Back(prediction), 95, "reml_prediction", null);
                Row("i_squared", "all", pooled.ISquared, null, null, "reml", null);
            }

            if (each.Funnel.Dispersion is { } dispersion)
                Row("overdispersion", "all", dispersion.Phi, null, null, "winsorised", null);
            foreach (var (point, estimate) in each.Funnel.Points.Zip(each.Estimates))
            {
                Row("estimate", point.Group, estimate?.Value, estimate is null ? null : new(estimate.Lower, estimate.Upper), 95,
                    estimate?.Method, point.Count, Place(point.Place));
                if (point.Limits is { } limits)
                {
                    Row("limits_95", point.Group, null, limits.Within95, 95, "funnel_exact", null);
                    Row("limits_998", point.Group, null, limits.Within998, 99.8, "funnel_exact", null);
                }

                if (each.Shrinkage?.Groups.FirstOrDefault(group => group.Group == point.Group) is { } shrunken)
                    Row("shrunken", point.Group, shrunken.Value, shrunken.Within, 95, "beta_binomial", null);
            }

            void Row(string part, string site, double? value, Bounds? interval, double? level, string? method, Count? count,
                string place = "", string doubts = "")
            {
                table.Text(each.Measure.Id).Text(period).Text(part).Text(site).Number(value).Number(interval?.Lower).Number(interval?.Upper)
                    .Number(interval is null ? null : level).Text(method);
                (count is { } known ? table.Integer(known.Met).Integer(known.Eligible).Integer(known.Missing) : table.Empty().Empty()
                    .Empty()).Text(place).Text(doubts).End();
            }
        }
    });

    private static Bounds? Back(Bounds? logits) =>
        logits is { } ends ? new(ProportionScale.FromLogit(ends.Lower), ProportionScale.FromLogit(ends.Upper)) : null;

    private static string Place(FunnelPlace place) => place switch
    {
        FunnelPlace.Outside998 => "outside_998",
        FunnelPlace.Outside95 => "outside_95",
        _ => "inside",
    };
}
