using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What a comparison between sites says, and how far to trust it.</summary>
public static class SiteWording
{
    /// <summary>Where a site lies; outside is a question, no verdict.</summary>
    public static string Place(FunnelPoint point)
    {
        ArgumentNullException.ThrowIfNull(point);
        return point.Value is null || point.Limits is null ? "no limits"
            : point.Place switch
            {
                FunnelPlace.Outside998 => $"outside the 99.8{Wording.Space}% limits: ask why, recording first",
                FunnelPlace.Outside95 => $"outside the 95{Wording.Space}% limits: ask why, recording first",
                _ => "inside the limits",
            };
    }

    /// <summary>The mean of all sites, what is expected of one more, and how much they differ.</summary>
    public static string Pooled(SiteComparison sites)
    {
        ArgumentNullException.ThrowIfNull(sites);
        var per = sites.Measure.Per;
        if (sites.Pooled is not { HartungKnapp: { } interval } pooled)
            return "";
        var said = $"Pooled over {Wording.Some(sites.Sites, "site")} (random "
            + $"effects): {Wording.Rate(ProportionScale.FromLogit(pooled.Value), per)} ({Range(interval, per)}).";
        if (pooled.Prediction is { } prediction)
            said += $" A further site's true value is expected between {Range(prediction, per)}.";
        if (pooled is { ISquared: { } share, QChance: { } chance })
            said += $" Of the variation between sites, {Wording.Hundred(share)}{Wording.Space}% is more than chance (I²); differences as "
                + $"large as these come up with a chance of {Wording.Chance(chance)} where all sites share one value (Cochran's Q).";
        return said;
    }

    /// <summary>How much more than chance the sites vary, and every doubt.</summary>
    public static string Trusted(SiteComparison sites)
    {
        ArgumentNullException.ThrowIfNull(sites);
        var said = new List<string>();
        if (sites.Funnel.Dispersion is { } dispersion)
            said.Add($"Overdispersion factor {dispersion.Phi.ToString("0.0", CultureInfo.InvariantCulture)} (1 or less: "
                + $"chance explains all differences); the limits are not widened for it.");
        if (sites.Sites < SiteComparison.FewSites)
            said.Add($"With fewer than {SiteComparison.FewSites} sites neither it nor the variation between sites can be estimated well.");
        said.AddRange(sites.Funnel.Doubts.Select(ChartCautions.Say));
        if (sites.Shrinkage is { Prior.Spread: 0 })
            said.Add("No variation beyond chance is seen, so every shrunken estimate is the mean; "
                + "that is not evidence that sites are equal.");
        if (sites.Unplaced is { Eligible: > 0 } unplaced)
            said.Add($"{Wording.Some(unplaced.Eligible, "record")} without a site {(unplaced.Eligible == 1 ? "is" : "are")} left out.");
        return string.Join(' ', said);
    }

    /// <summary>A shrunken estimate with its interval, where there is one.</summary>
    public static string Shrunken(ShrunkenEstimate? estimate, int per) => estimate is null ? "none"
        : Wording.Rate(estimate.Value, per) + (estimate.Within is { } within ? $" ({Wording.Range(within.Lower, within.Upper, per)})" : "");

    private static string Range(Bounds logits, int per) =>
        Wording.Range(ProportionScale.FromLogit(logits.Lower), ProportionScale.FromLogit(logits.Upper), per);
}
