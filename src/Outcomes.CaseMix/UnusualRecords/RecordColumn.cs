using System.Collections.Immutable;

namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>One quantity of all records.</summary>
/// <param name="Name">What a finding calls it.</param>
/// <param name="Values">A value a record; <see cref="double.NaN"/> where it is missing.</param>
/// <param name="Logarithm">
/// True for a quantity that varies by a factor rather than by an amount (a weight, a dose, a duration): it is compared as
/// sign(x) · ln(1 + |x|), so that 0 and a time before induction have a place too.
/// </param>
public sealed record RecordColumn(string Name, ImmutableArray<double> Values, bool Logarithm = false);
