using System.Collections.Frozen;
using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// United Kingdom postcodes: A9, A99, A9A, AA9, AA99 or AA9A, a space or none, then 9AA. Our own reading of the published format
/// (BS 7666, as the government's schema catalogue gives it): each alternative is a whole word, the area is one of those in use, and
/// the letters stand only where they are allowed. The published pattern does neither and finds postcodes inside other words.
/// </summary>
public static partial class Postcodes
{
    // Areas in use, and those of the Crown dependencies and the forces.
    private static readonly FrozenSet<string> Areas = (
        "AB AL B BA BB BD BF BH BL BN BR BS BT CA CB CF CH CM CO CR CT CV CW DA DD DE DG DH DL DN DT DY E EC EH EN EX FK FY G GL "
        + "GU GY HA HD HG HP HR "
        + "HS HU HX IG IM IP IV JE KA KT KW KY L LA LD LE LL LN LS LU M ME MK ML N NE NG NN NP NR NW OL OX PA PE PH PL PO PR RG RH RM "
        + "S SA SE SG SK SL SM "
        + "SN SO SP SR SS ST SW SY TA TD TF TN TQ TR TS TW UB W WA WC WD WF WN WR WS WV YO ZE").Split(' ')
        .ToFrozenSet(StringComparer.OrdinalIgnoreCase);

    private static readonly FrozenSet<string>.AlternateLookup<ReadOnlySpan<char>> AreasOf = Areas.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>True when the text holds a postcode as a word of its own.</summary>
    /// <param name="text">The text.</param>
    /// <param name="spaced">True asks for the space: a key of five to seven letters and digits is often a postcode without it
    /// by chance.</param>
    public static bool Find(ReadOnlySpan<char> text, bool spaced)
    {
        foreach (var match in Shape().EnumerateMatches(text))
            if (Is(text.Slice(match.Index, match.Length), spaced))
                return true;
        return false;
    }

    private static bool Is(ReadOnlySpan<char> code, bool spaced)
    {
        var outward = code[..^3].TrimEnd(' ');
        if (spaced && outward.Length == code.Length - 3) return false;
        if (code.StartsWith("GIR", StringComparison.OrdinalIgnoreCase)) return true;
        var letters = char.IsAsciiLetter(outward[1]) ? 2 : 1;
        if (!AreasOf.Contains(outward[..letters])) return false;
        if (char.IsAsciiLetter(outward[^1])
            && !(letters == 1 ? "ABCDEFGHJKPSTUW" : "ABEHMNPRVWXY").Contains(char.ToUpperInvariant(outward[^1]))) return false;
        return !IsOrdinal(code[^3..]);
    }

    // "G3 1st pregnancy", "L4 5th rib"
    private static bool IsOrdinal(ReadOnlySpan<char> inward) =>
        char.IsAsciiLetterLower(inward[1])
            && (inward[0], inward[1], inward[2]) is ('1', 's', 't') or ('2', 'n', 'd') or ('3', 'r', 'd') or (_, 't', 'h');

    [GeneratedRegex("(?<![A-Za-z0-9])(?:[A-Z]{1,2}[0-9][0-9A-Z]? {0,2}[0-9][ABD-HJLNP-UW-Z]{2}|GIR {0,2}0AA)(?![A-Za-z0-9])",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Shape();
}
