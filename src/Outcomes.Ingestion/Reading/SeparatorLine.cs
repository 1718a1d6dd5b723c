namespace Outcomes.Ingestion.Reading;

/// <summary>A first line such as <c>sep=;</c>, by which spreadsheets are told the separator. It is not part of the table.</summary>
internal static class SeparatorLine
{
    /// <summary>The separator that the line names; null when the text does not start with such a line.</summary>
    /// <param name="text">The text without a byte order mark.</param>
    /// <param name="bytes">Length of the line, its end included; 0 without one.</param>
    public static char? Read(ReadOnlySpan<byte> text, out int bytes)
    {
        bytes = 0;
        var end = text.IndexOfAny((byte)'\n', (byte)'\r');
        if (end is < 5 or > 7) return null;
        var line = text[..end];
        if (line is [(byte)'"', .., (byte)'"']) line = line[1..^1];
        if (line is not [(byte)'s' or (byte)'S', (byte)'e' or (byte)'E', (byte)'p' or (byte)'P', (byte)'=', var separator]) return null;
        if (separator is >= 0x80 or (byte)'"' || char.IsAsciiLetterOrDigit((char)separator)) return null;
        bytes = end + (text[end..].StartsWith("\r\n"u8) ? 2 : 1);
        return (char)separator;
    }
}
