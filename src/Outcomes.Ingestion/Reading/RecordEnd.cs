namespace Outcomes.Ingestion.Reading;

/// <summary>Where records end in delimited text, without parsing it.</summary>
public static class RecordEnd
{
    /// <summary>
    /// The position after the last line break that ends a record; 0 when there is none. Counting quotes would not do: one stray
    /// quote inside a plain cell would swallow the file. A quote opens a cell only at its start.
    /// </summary>
    /// <param name="text">Text that starts at a record.</param>
    /// <param name="separator">The separator of cells.</param>
    /// <param name="openQuote">Where a quoted cell opens that does not close in this text; -1 when every one closes.</param>
    public static int Last(ReadOnlySpan<byte> text, byte separator, out int openQuote)
    {
        openQuote = -1;
        // A block must not end between CR and LF: the line feed would look like a blank line of the next block.
        if (text.EndsWith((byte)'\r')) text = text[..^1];
        int end = 0, at = 0;
        while (true)
        {
            var quote = text[at..].IndexOf((byte)'"');
            var plain = quote < 0 ? text[at..] : text.Slice(at, quote);
            var line = plain.LastIndexOfAny((byte)'\n', (byte)'\r');
            if (line >= 0) end = at + line + 1;
            if (quote < 0) return end;
            var open = at + quote;
            at = open + 1;
            if (open > 0 && text[open - 1] != separator && text[open - 1] is not ((byte)'\n' or (byte)'\r')) continue;
            while (true)
            {
                var close = text[at..].IndexOf((byte)'"');
                if (close < 0)
                {
                    openQuote = open;
                    return end;
                }

                at += close + 1;
                if (at < text.Length && text[at] == (byte)'"') at++;
                else break;
            }
        }
    }

    /// <summary>Where a physical line starts, 1-based; -1 when the text has fewer.</summary>
    public static int StartOfLine(ReadOnlySpan<byte> text, int line)
    {
        var at = 0;
        for (; line > 1; line--)
        {
            var end = text[at..].IndexOfAny((byte)'\n', (byte)'\r');
            if (end < 0) return -1;
            at += end + (text[(at + end)..].StartsWith("\r\n"u8) ? 2 : 1);
        }

        return at;
    }

    /// <summary>Line breaks in the text: CR, LF and CR LF each count once.</summary>
    public static int LineBreaks(ReadOnlySpan<byte> text)
    {
        var breaks = text.Count((byte)'\n');
        for (var at = text.IndexOf((byte)'\r'); at >= 0;)
        {
            if (at + 1 >= text.Length || text[at + 1] != (byte)'\n') breaks++;
            var next = text[(at + 1)..].IndexOf((byte)'\r');
            at = next < 0 ? -1 : at + 1 + next;
        }

        return breaks;
    }
}
