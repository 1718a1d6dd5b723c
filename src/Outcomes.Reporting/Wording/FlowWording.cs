using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>Who is counted, in one line, and where a denominator comes from.</summary>
internal static class FlowWording
{
    /// <summary><c>178 recorded: 2 planned and 1 child not counted; 175 analysed.</c></summary>
    public static string Line(Flow flow)
    {
        string[] left =
        [
            .. new (long Number, string Words)[]
            {
                (flow.NotEmergency, "planned"), (flow.UnderSixteen, flow.UnderSixteen == 1 ? "child" : "children"),
                (flow.NoAttempt, "without an airway attempt"),
            }.Where(part => part.Number > 0).Select(part => Some(part.Number, part.Words)),
        ];
        string[] parts =
        [
            .. left.Length == 0 ? Array.Empty<string>() : [$"{Joined(left)} not counted"],
            .. flow.NotKnown == 0 ? Array.Empty<string>() : [$"{Some(flow.NotKnown, "not known to belong, and missing")}"],
            Some(flow.Analysed, "analysed"),
        ];
        return $"{Some(flow.Recorded, "recorded")}: {string.Join("; ", parts)}.";
    }

    /// <summary><c>175 analysed − 21 outside this measure − 12 missing = 142</c>; empty where it was not asked.</summary>
    public static string Denominator(DenominatorFlow? flow, Count count) => flow is null ? ""
        : flow.From == count.Eligible ? $"Denominator: all {Some(flow.From, flow.All ? "recorded" : "analysed")}."
        : $"Denominator: {Some(flow.From - flow.NotKnown, flow.All ? "recorded" : "analysed")}"
            + (flow.NotKnown == 0 ? "" : $" + {Some(flow.NotKnown, "not known to belong")}")
            + (flow.Outside == 0 ? "" : $" − {Some(flow.Outside, "outside this measure")}")
            + (count.Missing == 0 ? "" : $" − {Some(count.Missing, "missing")}")
            + $" = {Wording.Number(count.Eligible)}.";

    private static string Some(long number, string words) => $"{Wording.Number(number)}{Wording.Space}{words}";

    private static string Joined(string[] parts) => parts.Length < 2 ? string.Concat(parts)
        : $"{string.Join(", ", parts[..^1])} and {parts[^1]}";
}
