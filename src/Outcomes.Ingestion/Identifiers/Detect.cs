using System.Buffers;
using System.Text;
using Outcomes.Ingestion.Identifiers.National;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Looks for identifiers in one text. A look at its bytes first says what it could hold at all, so that most cells cost a few
/// nanoseconds; only what remains is read closely. Pure: the same text always gives the same answer.
/// </summary>
public static class Detect
{
    private const int OnStack = 512;

    /// <summary>What of <paramref name="asked"/> the text holds.</summary>
    /// <param name="text">UTF-8, trimmed.</param>
    /// <param name="asked">The kinds to look for.</param>
    public static Identifier In(ReadOnlySpan<byte> text, Identifier asked)
    {
        var possible = Possible(text) & asked;
        return possible == Identifier.None ? Identifier.None : Closely(text, possible, asked);
    }

    /// <inheritdoc cref="In(ReadOnlySpan{byte}, Identifier)"/>
    public static Identifier In(string text, Identifier asked = IdentifierSets.All)
    {
        ArgumentNullException.ThrowIfNull(text);
        return In(Encoding.UTF8.GetBytes(text.Trim()), asked);
    }

    /// <summary>What the text could hold, judged by counting its bytes: never leaves out what is there.</summary>
    public static Identifier Possible(ReadOnlySpan<byte> text)
    {
        if (text.Length < 4) return Identifier.None;
        int digits = 0, letters = 0, dots = 0, other = 0;
        var (at, exponent) = (false, false);
        foreach (var b in text)
        {
            if (b - (uint)'0' <= 9) digits++;
            else if ((b | 0x20u) - 'a' <= 25)
            {
                letters++;
                exponent |= (b | 0x20) == 'e' && digits > 0;
            }
            else if (b == (byte)'.') dots++;
            else if (b == (byte)'@') at = true;
            else other++;
        }

        var possible = Identifier.None;
        if (digits >= 3 && letters >= 3) possible |= Identifier.Phone;
        if (digits >= 10) possible |= IdentifierSets.Numbers | Identifier.Phone;
        // A Medicare identifier of the United States has five digits at least, and eleven places.
        if (digits >= 5 && digits + letters >= 8) possible |= IdentifierSets.National;
        if (digits >= 2 && letters >= 3) possible |= Identifier.Plate;
        if (letters >= 2 && dots > 0) possible |= Identifier.ImageFile;
        if (digits > 0 && letters + other >= 4) possible |= Identifier.Address;
        if (exponent && digits >= 2) possible |= IdentifierSets.Numbers;
        if (at) possible |= Identifier.Email;
        if (digits > 0 && letters >= 3) possible |= Identifier.Postcode;
        if (digits >= 5 && letters >= 1) possible |= Identifier.HospitalNumber | Identifier.Registration;
        // Four digits are a date as 3/4/61 or after a "b.", three only beside the name of a month.
        if (digits >= 5 || (digits >= 4 && dots + other >= 2) || (digits >= 3 && letters >= 3)) possible |= Identifier.BirthDate;
        if (dots >= 3 || other >= 7 || (letters >= 4 && dots + other > 0)) possible |= Identifier.Web;
        if (letters >= 4 && dots + other > 0) possible |= Identifier.TitledName;
        if (letters >= 4 && dots + other > 0) possible |= Identifier.BareName;
        return possible;
    }

    /// <summary>Reads a text closely for what is possible in it.</summary>
    internal static Identifier Closely(ReadOnlySpan<byte> text, Identifier possible, Identifier asked)
    {
        var found = (possible & IdentifierSets.Numbers) == 0 ? Identifier.None : TenDigits.Find(text);
        if ((possible & IdentifierSets.National) != 0) found |= NationalText.Find(text);
        if ((possible & ~(IdentifierSets.Numbers | IdentifierSets.National)) == 0) return found & asked;
        char[]? rented = null;
        var room = text.Length <= OnStack ? stackalloc char[OnStack] : (rented = ArrayPool<char>.Shared.Rent(text.Length));
        var characters = room[..Encoding.UTF8.GetChars(text, room)];
        characters.Replace('\u00A0', ' ');
        found |= InWords(characters, possible, spaced: asked == IdentifierSets.OfKeys);
        if (rented is not null) ArrayPool<char>.Shared.Return(rented, clearArray: true);
        // A number that passes the check is not reported a second time as a telephone number, nor an e-mail address as its host's.
        if ((found & (IdentifierSets.Passing | Identifier.NhsForm)) != 0) found &= ~Identifier.Phone;
        if ((found & Identifier.Email) != 0) found &= ~Identifier.Web;
        if ((found & IdentifierSets.National) != 0) found &= ~(Identifier.Phone | Identifier.HospitalNumber | Identifier.BirthDate);
        return found & asked;
    }

    private static Identifier InWords(ReadOnlySpan<char> text, Identifier possible, bool spaced)
    {
        var found = Identifier.None;
        if ((possible & Identifier.Email) != 0 && Shapes.HoldsEmail(text)) found |= Identifier.Email;
        if ((possible & Identifier.Postcode) != 0 && Postcodes.Find(text, spaced)) found |= Identifier.Postcode;
        if ((possible & Identifier.Phone) != 0 && Shapes.Phone().IsMatch(text)) found |= Identifier.Phone;
        if ((possible & Identifier.Web) != 0 && Shapes.Web().IsMatch(text)) found |= Identifier.Web;
        if ((possible & Identifier.TitledName) != 0 && Shapes.HoldsTitledName(text)) found |= Identifier.TitledName;
        if ((possible & Identifier.BirthDate) != 0 && BirthDates.Find(text)) found |= Identifier.BirthDate;
        if ((possible & Identifier.HospitalNumber) != 0 && Shapes.HospitalNumber().IsMatch(text)) found |= Identifier.HospitalNumber;
        if ((possible & Identifier.Registration) != 0 && Shapes.Registration().IsMatch(text)) found |= Identifier.Registration;
        if ((possible & Identifier.NationalNumber) != 0 && Shapes.Announced().IsMatch(text)) found |= Identifier.NationalNumber;
        if ((possible & Identifier.ImageFile) != 0 && Shapes.ImageFile().IsMatch(text)) found |= Identifier.ImageFile;
        if ((possible & Identifier.Address) != 0 && Streets.Find(text)) found |= Identifier.Address;
        if ((possible & Identifier.Plate) != 0 && Shapes.Plate().IsMatch(text)) found |= Identifier.Plate;
        if ((possible & Identifier.BareName) != 0 && (found & Identifier.TitledName) == 0 && Names.Within(text))
            found |= Identifier.BareName;
        return found;
    }
}
