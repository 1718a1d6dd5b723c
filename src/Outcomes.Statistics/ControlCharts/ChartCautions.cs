namespace Outcomes.Statistics;

/// <summary>What a doubt means, in a sentence without numbers, and its stable name.</summary>
public static class ChartCautions
{
    /// <summary>What every control chart says beside it.</summary>
    public const string ControlChart = "Looked at month after month, a stable process shows a point beyond its limits sooner or later. "
        + "For improvement only: no verdict on a department or a person.";

    /// <summary>What every funnel plot says beside it.</summary>
    public const string Funnel = "A group outside the limits differs more than chance explains: in patients, in recording or in care, "
        + "which the plot cannot tell apart. It is no ranking.";

    /// <summary>What every learning curve says beside it.</summary>
    public const string LearningCurve = "For a learner's own numbers, looked at with a supervisor. Cases differ in difficulty, "
        + "which this ignores. Never a ground for judging a person.";

    /// <summary>The stable name of a doubt, as results carry it.</summary>
    public static string Name(ChartDoubt doubt) => doubt switch
    {
        ChartDoubt.NoBaseline => "no_baseline",
        ChartDoubt.BaselineAtEdge => "baseline_at_edge",
        ChartDoubt.NoVariation => "no_variation",
        ChartDoubt.ShortBaseline => "short_baseline",
        ChartDoubt.FewExpected => "few_expected",
        ChartDoubt.Overdispersed => "overdispersed",
        ChartDoubt.NoFallSeen => "no_fall_seen",
        ChartDoubt.NoRiseSeen => "no_rise_seen",
        ChartDoubt.NotRare => "not_rare",
        ChartDoubt.ZeroTimes => "zero_times",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "a doubt without a name"),
    };

    /// <summary>What it means for the reader.</summary>
    public static string Say(ChartDoubt doubt) => doubt switch
    {
        ChartDoubt.NoBaseline => "No baseline value, so there are no limits.",
        ChartDoubt.BaselineAtEdge => "All or none in the baseline, so limits would be those of certainty; there are none.",
        ChartDoubt.NoVariation => "The baseline does not vary, so limits would be those of certainty; there are none.",
        ChartDoubt.ShortBaseline => "The baseline is short, so the limits are themselves a matter of chance.",
        ChartDoubt.FewExpected => "Too few cases for a normal approximation at some points; exact limits hold there.",
        ChartDoubt.Overdispersed =>
            "The baseline varies more than chance alone, so these limits are too narrow; limits that allow for it are wider.",
        ChartDoubt.NoFallSeen => "At most of the points no value could lie below the lower limit, so a single point cannot show a fall.",
        ChartDoubt.NoRiseSeen => "At most of the points no value could lie above the upper limit, so a single point cannot show a rise.",
        ChartDoubt.NotRare => "The event is not rare; a chart of the proportion says more.",
        ChartDoubt.ZeroTimes => "Events often share a time; they come in clusters, or the time unit is too coarse.",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "a doubt without a sentence"),
    };

    /// <summary>The stable name of a doubt, as results carry it.</summary>
    public static string Name(FunnelDoubt doubt) => doubt switch
    {
        FunnelDoubt.NoTarget => "no_target",
        FunnelDoubt.FewGroups => "few_groups",
        FunnelDoubt.Overdispersed => "overdispersed",
        FunnelDoubt.NotComparable => "not_comparable",
        FunnelDoubt.OneGroupRules => "one_group_rules",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "a doubt without a name"),
    };

    /// <summary>What it means for the reader.</summary>
    public static string Say(FunnelDoubt doubt) => doubt switch
    {
        FunnelDoubt.NoTarget => "There is no target between none and all, so there are no limits.",
        FunnelDoubt.FewGroups => "With so few groups, how much they vary beyond chance is mostly chance itself.",
        FunnelDoubt.Overdispersed =>
            "The groups vary more than chance alone, so these limits put too many outside; limits that allow for it are wider.",
        FunnelDoubt.NotComparable => "The groups differ so much that no limits would fit; look at case mix and definitions first.",
        FunnelDoubt.OneGroupRules =>
            "One group makes up much of the pooled proportion, so it is compared with itself; a declared target is better.",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "a doubt without a sentence"),
    };

    /// <summary>The stable name of a doubt, as results carry it.</summary>
    public static string Name(SegmentedDoubt doubt) => doubt switch
    {
        SegmentedDoubt.FewMonths => "few_months",
        SegmentedDoubt.FewEvents => "few_events",
        SegmentedDoubt.NoAnswer => "no_answer",
        SegmentedDoubt.Autocorrelated => "autocorrelated",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "a doubt without a name"),
    };

    /// <summary>What it means for the reader.</summary>
    public static string Say(SegmentedDoubt doubt) => doubt switch
    {
        SegmentedDoubt.FewMonths => "There are few months before the change or after it, so the trends are guesses.",
        SegmentedDoubt.FewEvents => "There are few events before the change or after it, so the odds ratios are unsteady.",
        SegmentedDoubt.NoAnswer => "Level and trend have no finite answer in these data.",
        SegmentedDoubt.Autocorrelated =>
            "Neighbouring months are alike beyond the trend (Ljung-Box, p < 0.05): the intervals are too narrow.",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "a doubt without a sentence"),
    };
}
