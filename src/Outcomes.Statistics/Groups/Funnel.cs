using System.Collections.Immutable;

namespace Outcomes.Statistics;

/// <summary>The limits of a funnel plot before any widening.</summary>
public enum FunnelLimits
{
    /// <summary>The smallest and largest k/n with a binomial tail beyond of at most 2.5 % (or 0.1 %): steps, as the counts allow.</summary>
    Exact,

    /// <summary>
    /// Spiegelhalter's smooth line between the counts: a count on its outer side can be a little likelier than the tail says.
    /// </summary>
    Interpolated,

    /// <summary>Target ± z standard errors: a normal approximation, poor for few cases or a target near 0 or 1.</summary>
    Normal,
}

/// <summary>How the limits allow for variation between groups beyond chance.</summary>
public enum Widening
{
    /// <summary>Not at all.</summary>
    None,

    /// <summary>The distance of a limit from the target times √φ, never less than 1: every group alike.</summary>
    Multiplicative,

    /// <summary>The distance times √(1 + τ²/s²) with s² = target (1 − target) / n: most for the largest groups.</summary>
    Additive,
}

/// <summary>A group of a funnel plot, such as a site.</summary>
/// <param name="Group">Its name.</param>
/// <param name="Count">Its count.</param>
public sealed record GroupCount(string Group, Count Count);

/// <summary>Where a group lies.</summary>
public enum FunnelPlace
{
    /// <summary>Inside both pairs of limits: no more different from the target than chance explains.</summary>
    Inside,

    /// <summary>Outside the 95 % limits only: of twenty such groups without any difference, one lies there.</summary>
    Outside95,

    /// <summary>Outside the 99.8 % limits.</summary>
    Outside998,
}

/// <summary>The limits at a number of eligible records, as fractions.</summary>
public sealed record FunnelLimit(long Eligible, Bounds Within95, Bounds Within998);

/// <summary>One group of the plot.</summary>
/// <param name="Group">Its name.</param>
/// <param name="Count">Its count.</param>
/// <param name="Value">Met of eligible, a fraction; null where none was eligible.</param>
/// <param name="Z">(value − target) over the standard error at the target, before any widening.</param>
/// <param name="Limits">The limits at its own number of records.</param>
/// <param name="Place">Where the value lies.</param>
public sealed record FunnelPoint(string Group, Count Count, double? Value, double? Z, FunnelLimit? Limits, FunnelPlace Place);

/// <summary>A reason not to trust a funnel plot.</summary>
public enum FunnelDoubt
{
    /// <summary>No target, or one of 0 or 1: no limits.</summary>
    NoTarget,

    /// <summary>Fewer than ten groups: φ and τ² are mostly chance.</summary>
    FewGroups,

    /// <summary>More variation than chance (I φ beyond the 95 % point of its chi-square) while the limits allow for none.</summary>
    Overdispersed,

    /// <summary>
    /// φ above 4: groups differ for reasons that no limits allow for; look at case mix and definitions before anything else.
    /// </summary>
    NotComparable,

    /// <summary>The target is the pooled proportion and one group makes up more than a third of it.</summary>
    OneGroupRules,
}

/// <summary>A funnel plot: groups in the order they were given, never ranked.</summary>
public sealed record Funnel
{
    /// <summary>What values are compared with, a fraction; null without any record.</summary>
    public required double? Target { get; init; }

    /// <summary>Which limits.</summary>
    public required FunnelLimits Limits { get; init; }

    /// <summary>Which widening.</summary>
    public required Widening Widening { get; init; }

    /// <summary>Variation between groups; null with fewer than two groups or no limits.</summary>
    public required Dispersion? Dispersion { get; init; }

    /// <summary>The groups.</summary>
    public required ImmutableArray<FunnelPoint> Points { get; init; }

    /// <summary>The limits over the range of sizes, to draw.</summary>
    public required ImmutableArray<FunnelLimit> Curve { get; init; }

    /// <summary>Reasons not to trust it.</summary>
    public required ImmutableArray<FunnelDoubt> Doubts { get; init; }
}
