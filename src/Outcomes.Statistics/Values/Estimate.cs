namespace Outcomes.Statistics;

/// <summary>A value with its interval, the count it rests on, and how it was made.</summary>
/// <param name="Value">The estimate; a proportion is a fraction from 0 to 1.</param>
/// <param name="Lower">Lower end of the interval.</param>
/// <param name="Upper">Upper end of the interval.</param>
/// <param name="Level">Confidence level, such as 0.95.</param>
/// <param name="Method">Stable name of the method, such as <c>wilson</c>.</param>
/// <param name="Source">The publication that the method comes from.</param>
/// <param name="Count">The count it rests on.</param>
public sealed record Estimate(double Value, double Lower, double Upper, double Level, string Method, string Source, Count Count);
