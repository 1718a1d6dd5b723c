namespace Outcomes.Statistics;

/// <summary>The two ends of an interval, lower first, in the unit of the value they belong to.</summary>
public readonly record struct Bounds(double Lower, double Upper);
