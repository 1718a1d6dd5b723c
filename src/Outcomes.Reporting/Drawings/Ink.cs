using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Black, one accent and their tints. No colour means better or worse: that is said by shape and word, so that a chart reads the
/// same in grey. Contrast on white (WCAG formula): accent 5.19, tint 3.23, quiet 6.69.
/// </summary>
internal static class Ink
{
    public static readonly Color Black = Color.FromHex("#111111");
    public static readonly Color Accent = Color.FromHex("#0072B2");

    /// <summary>Interval whiskers: lighter than the line, still 3:1.</summary>
    public static readonly Color Tint = Color.FromHex("#5596C0");

    /// <summary>Axis labels and notes.</summary>
    public static readonly Color Quiet = Color.FromHex("#5C5C5C");

    /// <summary>Grid lines: guides, not information.</summary>
    public static readonly Color Grid = Color.FromHex("#DDDDDD");

    /// <summary>The ends of a level's range: thin lines, still 3:1.</summary>
    public static readonly Color Faint = Color.FromHex("#8A8A8A");
    public static readonly Color Wash = Color.FromHex("#EAF3F9");
    public static readonly Color Paper = Color.FromHex("#FFFFFF");
}
