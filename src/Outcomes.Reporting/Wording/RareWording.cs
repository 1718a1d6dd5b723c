using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What can be said of an event that is too rare for a run chart.</summary>
public static class RareWording
{
    /// <summary>What the event is: the measure, or that it was not met.</summary>
    public static string Event(RareEvents events)
    {
        ArgumentNullException.ThrowIfNull(events);
        return Event(events.Measure, events.EventIsNotMet);
    }

    private static string Event(Measure measure, bool notMet) => notMet ? $"Not met: {measure.Title}" : measure.Title;

    /// <summary>Measures whose events are nearly these; empty without any.</summary>
    public static string Alike(RareEvents events)
    {
        ArgumentNullException.ThrowIfNull(events);
        return events.Alike.IsEmpty ? "" : $"Nearly the same records, not shown again: {string.Join("; ", events.Alike.Select(Shared))}.";
    }

    private static string Shared(AlikeEvents alike) => $"{Event(alike.Measure, alike.EventIsNotMet)} "
        + $"({Wording.Fraction(alike.Count)}, {Wording.Number(alike.Shared)} shared)";

    /// <summary>How long ago the last one was: <c>42 cases ago, 63 days</c>.</summary>
    public static string Last(RareEvents events)
    {
        ArgumentNullException.ThrowIfNull(events);
        return events.Since is not { } since ? "none"
            : since.Cases == 0 ? "the last case" : $"{Wording.Some(since.Cases, "case")} ago{Days(since)}";
    }

    /// <summary>Median and range of the gaps, with the limits where there are any.</summary>
    public static string Between(RareEvents events)
    {
        ArgumentNullException.ThrowIfNull(events);
        if (events.Gaps.IsEmpty)
            return events.Count.Met == 0 ? "" : "one event";
        var cases = events.Gaps.Select(gap => gap.Cases).Order().ToArray();
        var range = cases[0] == cases[^1] ? Wording.Number(cases[0]) : $"{Wording.Number(cases[0])} to {Wording.Number(cases[^1])}";
        return range + (Limits(events.Chart) is { } limits
            ? $"; limits {Wording.Number((long)limits.Lower)}{Wording.Space}to{Wording.Space}{Wording.Number((long)limits.Upper)}"
            : "; no limits");
    }

    /// <summary>Events after the baseline, and how many its rate would give.</summary>
    public static string Expected(RareEvents events)
    {
        ArgumentNullException.ThrowIfNull(events);
        if (events.AfterCount.Eligible == 0)
            return "no case after the baseline";
        var seen = $"{Wording.Number(events.AfterCount.Met)} in {Wording.Some(events.AfterCount.Eligible, "case")}";
        return events.AfterPoint is { } point
            ? $"{seen}; {Wording.Quantity(point.Expected)} expected"
            : $"{seen}; none in {Wording.Some(events.BaselineCount.Eligible, "baseline case")}, so none expected";
    }

    /// <summary>The bound where there was none.</summary>
    public static string Bound(RareEvents events)
    {
        ArgumentNullException.ThrowIfNull(events);
        return events.UpperWhenNone is { } bound
            ? $"None in {Wording.Some(events.Count.Eligible, "case")}: at most {Wording.Rate(bound, events.Measure.Per)} (one-sided "
                + $"exact 95{Wording.Space}% bound). Zero observed does not mean zero risk."
            : "";
    }

    /// <summary>The limits of the chart; null without.</summary>
    public static Bounds? Limits(ControlChart? chart) =>
        chart?.Points.FirstOrDefault() is { Lower: { } lower, Upper: { } upper } ? new(lower, upper) : null;

    private static string Days(EventGap gap) => gap.Days is { } days ? $", {Wording.Some(days, "day")}" : "";
}
