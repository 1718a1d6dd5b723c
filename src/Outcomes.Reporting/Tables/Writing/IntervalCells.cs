using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>A value with its interval, as tables hold it; what is not known is an empty cell.</summary>
internal readonly record struct IntervalCells(double? Value, double? Lower, double? Upper, double? LevelPct, string? Method)
{
    /// <summary>The cells of an estimate; empty without one.</summary>
    public static IntervalCells Of(Estimate? estimate) =>
        estimate is null ? default : new(estimate.Value, estimate.Lower, estimate.Upper, estimate.Level * 100, estimate.Method);

    /// <summary>The cells of a value and its interval, which has a level only where there is one.</summary>
    public static IntervalCells Of(double? value, Bounds? interval, string? method, double level = 95) =>
        new(value, interval?.Lower, interval?.Upper, interval is null ? null : level, method);
}
