using System.Collections.Immutable;
using System.Runtime.CompilerServices;

namespace Outcomes.Statistics;

/// <summary>The points that the limits of a chart come from, declared before anyone looks.</summary>
/// <param name="From">0-based position of the first.</param>
/// <param name="Points">How many, gaps included; cut to what there is.</param>
public readonly record struct ChartBaseline(int From, int Points)
{
    /// <summary>Whether the 0-based position lies in it.</summary>
    public bool Contains(int position) => position >= From && position - From < Points;

    internal static void Require(ChartBaseline baseline, [CallerArgumentExpression(nameof(baseline))] string? name = null)
    {
        if (baseline.From < 0 || baseline.Points < 1)
            throw new ArgumentOutOfRangeException(name, baseline, "a baseline starts at 0 or later and has at least one point");
    }
}

/// <summary>A reason not to trust a chart, or not to use it at all.</summary>
public enum ChartDoubt
{
    /// <summary>No valued point lies in the baseline, so there are no limits.</summary>
    NoBaseline,

    /// <summary>All or none in the baseline: any limits would be those of certainty, so there are none.</summary>
    BaselineAtEdge,

    /// <summary>The baseline's points are all the same where limits come from their variation: there are none.</summary>
    NoVariation,

    /// <summary>
    /// Fewer than 20 valued baseline points: the limits are themselves a matter of chance (common practice asks for 20 to 25).
    /// </summary>
    ShortBaseline,

    /// <summary>A normal approximation where fewer than 5 are expected to meet it, or not to, at a point: use exact limits.</summary>
    FewExpected,

    /// <summary>
    /// The baseline varies more than chance alone (Pearson's chi-square, 5 %): limits for one constant rate are too narrow.
    /// </summary>
    Overdispersed,

    /// <summary>At half of the points or more no value could lie below the lower limit: the chart cannot show a fall.</summary>
    NoFallSeen,

    /// <summary>At half of the points or more no value could lie above the upper limit: the chart cannot show a rise.</summary>
    NoRiseSeen,

    /// <summary>The event is not rare (one case in five, or more often): a chart of the proportion says more.</summary>
    NotRare,

    /// <summary>At least a tenth of the waiting times are 0: events come in clusters, or the time unit is too coarse.</summary>
    ZeroTimes,
}

/// <summary>One point of a control chart.</summary>
/// <param name="Position">0-based place in time order.</param>
/// <param name="Value">What is plotted; null is a gap.</param>
/// <param name="Lower">Lower limit, itself inside; null where there is none.</param>
/// <param name="Upper">Upper limit, itself inside; null where there is none.</param>
/// <param name="InBaseline">Whether the limits were made from it.</param>
/// <param name="Open">A waiting time that has not ended: it can grow, so it is never judged short.</param>
public sealed record ControlPoint(int Position, double? Value, double? Lower, double? Upper, bool InBaseline, bool Open = false)
{
    /// <summary>Whether the value lies outside its limits.</summary>
    public bool Beyond => Value > Upper || (Value < Lower && !Open);
}

/// <summary>Points with a centre line and limits from a declared baseline.</summary>
/// <remarks>
/// Looked at once, a stable point lies outside with the chance that the limits stand for; looked at month after month, a stable chart shows
/// one sooner or later. It is a picture, no verdict on a department or a person.
/// </remarks>
public sealed record ControlChart
{
    /// <summary>Stable name of the chart and its limits, such as <c>p_exact</c>.</summary>
    public required string Method { get; init; }

    /// <summary>The publication that it comes from.</summary>
    public required string Source { get; init; }

    /// <summary>The centre line, in the unit of the values; null without a baseline.</summary>
    public required double? Centre { get; init; }

    /// <summary>
    /// The measured variation: for p and u charts how many times wider than chance, from moving ranges (σ_z); for individuals the mean
    /// moving range; null where the limits come from a distribution alone.
    /// </summary>
    public double? Variation { get; init; }

    /// <summary>Every point in time order, gaps included.</summary>
    public required ImmutableArray<ControlPoint> Points { get; init; }

    /// <summary>Reasons not to trust it; empty when none is known.</summary>
    public required ImmutableArray<ChartDoubt> Doubts { get; init; }

    /// <summary>Positions of the points outside their limits.</summary>
    public IEnumerable<int> Beyond => Points.Where(point => point.Beyond).Select(point => point.Position);
}
