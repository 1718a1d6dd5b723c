using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Records;

namespace Outcomes.Reporting;

/// <summary>What the counts of harm do and do not say.</summary>
public static class HarmWording
{
    /// <summary>A count; where no procedure says whether the event happened, that and no nought.</summary>
    public static string Count(HarmSpan span)
    {
        ArgumentNullException.ThrowIfNull(span);
        return span.IsUnknown ? "not recorded" : Wording.Number(span.Events);
    }

    /// <summary>The sentences below the table, and in its place where nothing is recorded; empty without any event to ask of.</summary>
    public static string Key(IReadOnlyCollection<HarmFigures> harm)
    {
        ArgumentNullException.ThrowIfNull(harm);
        HarmFigures[] told = [.. harm.Where(each => !each.Year.IsUnknown)];
        return string.Join(' ', new[]
        {
            Zero(told), told.Length == 0 ? "" : "Arrest and death: patients already in arrest at induction are not counted.",
            told.Any(each => each.Year.Unknown > 0) ? "Where an event is not recorded, the count may be too low." : "",
            NotRecorded([.. harm.Except(told).Select(each => Readable.WithinSentence(each.Event))]),
        }.Where(part => part.Length > 0));
    }

    // The most that fits none at all, for the events with the fewest records that say so.
    private static string Zero(HarmFigures[] told)
    {
        var bounds = told.Select(harm => harm.Year.ZeroBound).OfType<double>().ToArray();
        return bounds.Length == 0 ? ""
            : "Zero observed does not mean zero risk: "
                + $"up to {Math.Ceiling(bounds.Max() * 1000).ToString("0", CultureInfo.InvariantCulture)} "
                + $"in 1,000 fits a zero in the last 12 months (one-sided exact 95{Wording.Space}% bound).";
    }

    private static string NotRecorded(string[] events) => events.Length == 0 ? ""
        : $"Not recorded in any procedure: {string.Join(", ", events)}. None recorded does not mean that none happened.";
}
