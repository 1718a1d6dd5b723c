using System.Collections.Immutable;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Traces;

namespace Outcomes.Tests.Ingestion.Traces;

/// <summary>Short traces as a test draws them.</summary>
internal static class Drawn
{
    public const double None = double.NaN;

    /// <summary>Samples every <paramref name="every"/> seconds from <paramref name="from"/> on; NaN is a row without a value.</summary>
    public static Sample[] Every(double every, double from, params double[] values) =>
        [.. values.Select((value, i) => new Sample((int)Math.Round((from + (i * every)) * 1000), value))];

    /// <summary>Samples at given seconds.</summary>
    public static Sample[] At(params (double Second, double Value)[] samples) =>
        [.. samples.Select(sample => new Sample((int)(sample.Second * 1000), sample.Value))];

    public static TraceSummary SpO2(Sample[] samples, int? tube = null, int? apnoea = null, string? window = null) =>
        Of(tube, apnoea, window, (Signal.SpO2, samples));

    public static TraceSummary Of(int? tube, int? apnoea, string? window, params (Signal Signal, Sample[] Samples)[] signals) =>
        TraceSummary.Of(signals.ToImmutableDictionary(pair => pair.Signal, pair => (ReadOnlyMemory<Sample>)pair.Samples),
            new RecordTimes(apnoea, tube, window));
}
