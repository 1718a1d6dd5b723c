namespace Outcomes.Statistics;

/// <summary>How a change is simulated.</summary>
/// <param name="Uniform">Source of uniform numbers, 0 ≤ u &lt; 1.</param>
/// <param name="Months">Months ahead, at least 1.</param>
/// <param name="Replicates">How often it is drawn, at least 1.</param>
public sealed record ChangeSimulation(Func<double> Uniform, int Months = 24, int Replicates = 4_000);
