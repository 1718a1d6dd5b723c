namespace Outcomes.Ingestion.Reading;

/// <summary>
/// What a spreadsheet writes where a formula has no value (Office Open XML, ECMA-376 part 1, 18.17.3; the later ones as its programs write
/// them). Such a cell is neither blank nor a word: something is broken at the source.
/// </summary>
public static class ErrorValues
{
    /// <summary>Stands for an error of a name that is not known here.</summary>
    public const string Unknown = "#N/A";

    private static readonly string[] Words =
        [
            Unknown, "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!", "#GETTING_DATA", "#SPILL!", "#CALC!", "#FIELD!",
            "#BLOCKED!", "#UNKNOWN!", "#CONNECT!", "#BUSY!"
        ];

    /// <summary>True when the text is such a value.</summary>
    public static bool Is(string text) => Words.Contains(text);

    /// <inheritdoc cref="Is(string)"/>
    public static bool Is(ReadOnlySpan<byte> utf8)
    {
        if (utf8 is not [(byte)'#', _, _, ..]) return false;
        foreach (var word in Words)
            if (System.Text.Ascii.Equals(utf8, word)) return true;
        return false;
    }
}
