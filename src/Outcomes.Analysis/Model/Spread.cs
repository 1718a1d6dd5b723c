using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>A value with its interval.</summary>
public sealed record Spread(double Value, Bounds Interval);
