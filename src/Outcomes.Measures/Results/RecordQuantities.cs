using System.Collections.Immutable;

namespace Outcomes.Measures;

/// <summary>Some quantities of a record.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Line">Physical line, 1-based.</param>
/// <param name="RecordId">Its key.</param>
/// <param name="Values">A value a field asked; <see cref="double.NaN"/> where it is missing.</param>
public readonly record struct RecordQuantities(int Source, int Line, string RecordId, ImmutableArray<double> Values);
