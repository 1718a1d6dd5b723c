using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>A measure's counts month by month, empty months included.</summary>
/// <param name="Year">Calendar year of the first month.</param>
/// <param name="Month">Calendar month of the first month, 1 to 12: quarters are calendar quarters.</param>
/// <param name="Counts">One count a month, in order, without gaps.</param>
public sealed record Series(int Year, int Month, ImmutableArray<Count> Counts);
