using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>The records that a rule about whole months looks at together.</summary>
/// <param name="Site">A site's code; null for all records, or for those of the smaller sites together.</param>
/// <param name="IsOthers">True for the smaller sites together.</param>
public readonly record struct SiteGroup(string? Site, bool IsOthers = false)
{
    public static readonly SiteGroup All = new(null);

    public static readonly SiteGroup Others = new(null, IsOthers: true);
}

/// <summary>Something about a whole month or quarter that no single record shows.</summary>
/// <param name="Rule">The rule's id.</param>
/// <param name="Column">The column it is about.</param>
/// <param name="Site">Whose records.</param>
/// <param name="Month">The month, or the first month of the quarter.</param>
/// <param name="Seen">Records that show it.</param>
/// <param name="Known">Records with a known value.</param>
public sealed record SiteMonth(string Rule, string Column, SiteGroup Site, Month Month, long Seen, long Known)
{
    public const string DigitPreference = "digit_preference", PerfectSaturation = "perfect_saturation", NoComplication = "no_complication",
        CodeShift = "code_shift";

    /// <summary>The value whose share moved.</summary>
    public string Level { get; init; } = "";

    /// <summary>The same counts in the month before, where a share moved.</summary>
    public (long Seen, long Known) Before { get; init; }

    /// <summary>Where nothing was seen: the upper end of the 95 % Wilson interval.</summary>
    public double HighestRate { get; init; }

    /// <summary>Where nothing was seen: the chance of that where one in ten has it.</summary>
    public double ChanceAtOneInTen { get; init; }
}
