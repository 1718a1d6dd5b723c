namespace Outcomes.Statistics;

/// <summary>How a change is simulated.</summary>
/// <param name="Uniform">Source of uniform numbers, 0 ≤ u &lt; 1.</param>
/// <param name="Months">Months ahead, at least 1, cut to what is left of the horizon.</param>
/// <param name="Replicates">How often it is drawn, at least 1.</param>
public sealed record ChangeSimulation(Func<double> Uniform, int Months = 24, int Replicates = 4_000);

/// <summary>A change in a department that is still to be.</summary>
/// <param name="Volume">Mean eligible cases a month, above 0.</param>
/// <param name="Met">The proportion met before the change, above 0 and below 1.</param>
/// <param name="Changed">The proportion met after it, above 0 and below 1.</param>
/// <param name="HistoryMonths">Months of history, at least <see cref="ChangeOddsOptions.LeastHistoryMonths"/>.</param>
/// <param name="StableReports">Reports before the change, 0 or more; a longer stable time makes the usual rate better known.</param>
/// <param name="Better">Which way the measure gets better.</param>
public sealed record PlannedChange(double Volume, double Met, double Changed, int HistoryMonths, int StableReports, Better Better);
