using System.Text;
using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Reading;

/// <summary>
/// Tells a date or a clock time in a cell of a trace: with one, anyone who knows when a patient was treated finds the trace.
/// </summary>
internal static partial class ClockText
{
    public const string Rule = "trace_clock_time";

    /// <summary>True for text such as <c>14:05</c>, <c>14:05:31</c>, <c>2026-03-31</c>, <c>31/03/2026</c> or both together.</summary>
    public static bool Is(ReadOnlySpan<byte> cell)
    {
        // Nearly every cell is a plain number: one look at its bytes settles it.
        if (cell.Length is < 4 or > 40 || !char.IsAsciiDigit((char)cell[0])
            || cell.IndexOfAny(":/"u8) < 0 && cell[1..].Count((byte)'-') < 2 && cell.Count((byte)'.') < 2) return false;
        Span<char> text = stackalloc char[cell.Length];
        return Pattern().IsMatch(text[..Encoding.UTF8.GetChars(cell, text)]);
    }

    [GeneratedRegex(@"^(\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}|\d{1,2}:\d{2})")]
    private static partial Regex Pattern();
}
