namespace Outcomes.Statistics;

/// <summary>A ratio with its interval: of two proportions, of two odds or of two rates.</summary>
/// <param name="Value">First over second, 0 to infinity; NaN when both are 0.</param>
/// <param name="Lower">Lower end of the interval.</param>
/// <param name="Upper">Upper end of the interval, perhaps infinite.</param>
/// <param name="Level">Confidence level, such as 0.95.</param>
/// <param name="Method">Stable name of the method.</param>
/// <param name="Source">The publication that the method comes from.</param>
public sealed record RatioEstimate(double Value, double Lower, double Upper, double Level, string Method, string Source)
{
    /// <summary>Why there is no interval: the ends are then 0 and infinity; null where there is one.</summary>
    public string? WhyNoInterval { get; init; }

    internal static RatioEstimate Without(double value, double level, string method, string source, string why) =>
        new(value, 0, double.PositiveInfinity, level, method, source) { WhyNoInterval = why };
}
