using System.Globalization;
using Outcomes.Analysis;

namespace Outcomes.Reporting;

/// <summary>What the counts of harm do and do not say.</summary>
public static class HarmWording
{
    public static string Key(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return string.Join(' ', new[]
        {
            Zero(model), "Arrest and death: patients already in arrest at induction are not counted.", Unknown(model),
        }.Where(part => part.Length > 0));
    }

    // The most that fits none at all, for the events with the fewest records that say so.
    private static string Zero(Figures model)
    {
        var bounds = model.Harm.Select(harm => harm.Year.ZeroBound).OfType<double>().ToArray();
        return bounds.Length == 0 ? ""
            : "Zero observed does not mean zero risk: "
                + $"up to {Math.Ceiling(bounds.Max() * 1000).ToString("0", CultureInfo.InvariantCulture)} "
                + $"in 1,000 fits a zero in the last 12 months (one-sided exact 95{Wording.Space}% bound).";
    }

    private static string Unknown(Figures model) =>
        model.Harm.Any(harm => harm.Year.Unknown > 0) ? "Where an event is not recorded, the count may be too low." : "";
}
