using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>How much time a point of a chart covers.</summary>
public enum PointSpan
{
    Month,
    Quarter,
}

/// <summary>Why a run chart is drawn but not tested.</summary>
public enum Untested
{
    /// <summary>It is tested.</summary>
    No,

    /// <summary>Fewer than ten useful points.</summary>
    FewPoints,

    /// <summary>Too few eligible cases a point; where the caller leaves the span open, the chart is then drawn by quarter.</summary>
    FewCases,

    /// <summary>The median is 0 or 100 %, so that a point can lie on one side only.</summary>
    MedianAtEdge,

    /// <summary>No baseline months with eligible cases.</summary>
    NoBaseline,
}

/// <summary>How the chance of a run chart's signal was found.</summary>
public enum ChanceMethod
{
    /// <summary>Sides of the median as fair coins, exactly, by dynamic programming.</summary>
    FairCoin,

    /// <summary>Simulated at the actual denominators.</summary>
    Simulated,
}

/// <summary>One point of a run chart.</summary>
/// <param name="Start">0-based month in the series where it starts.</param>
/// <param name="Months">How many months it covers.</param>
/// <param name="Count">Their summed count.</param>
/// <param name="Value">Met out of eligible, a fraction; null (a gap, never zero) where none was eligible.</param>
public sealed record RunChartPoint(int Start, int Months, Count Count, double? Value);

/// <summary>
/// A run chart: points about the median of a declared, frozen baseline, with the longest run on one side of it and the
/// number of crossings. A point on the median is neither side: it neither breaks nor lengthens a run.
/// </summary>
public sealed record RunChart
{
    public required PointSpan Span { get; init; }

    /// <summary>Every point in time order, gaps included.</summary>
    public required ImmutableArray<RunChartPoint> Points { get; init; }

    /// <summary>0-based month where the baseline starts, and how many months it has.</summary>
    public required (int From, int Months) Baseline { get; init; }

    /// <summary>Median of the baseline's points; null without one.</summary>
    public required double? Median { get; init; }

    /// <summary>Points off the median.</summary>
    public required int Useful { get; init; }

    public required int LongestRun { get; init; }

    /// <summary>A longer run than this is a signal.</summary>
    public required int RunLimit { get; init; }

    public required int Crossings { get; init; }

    /// <summary>Fewer crossings than this are a signal.</summary>
    public required int CrossingsLimit { get; init; }

    /// <summary>Whether the design allows a test, and if not, why.</summary>
    public required Untested Untested { get; init; }

    /// <summary>
    /// Chance that a process without change shows a run longer than the limit or fewer crossings than the limit, in one look;
    /// null without a useful point. <see cref="RunCharts.FairCoinHolds"/> says whether fair coins fit the baseline.
    /// </summary>
    public required double? Chance { get; init; }

    public required ChanceMethod ChanceMethod { get; init; }

    /// <summary>Points with eligible cases that lie on the median.</summary>
    public int OnMedian => Median is null ? 0 : Points.Count(point => point.Value is not null) - Useful;

    public bool LongRun => LongestRun > RunLimit;

    public bool FewCrossings => Crossings < CrossingsLimit;

    /// <summary>True when the chart is tested and one of its two rules fires.</summary>
    public bool Signals => Untested == Untested.No && (LongRun || FewCrossings);
}
