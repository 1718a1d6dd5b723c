using System.Security.Cryptography;
using System.Text;

namespace Outcomes.Measures.Review;

/// <summary>
/// A record's name in the review meeting: the first six digits, in base 32 (RFC 4648, section 6), of
/// HMAC-SHA-256(salt, audience LF record_id) (RFC 2104), both in UTF-8. Without the salt nobody can work out which record it is, not even
/// by trying every key; two audiences see different names.
/// </summary>
public static class CaseId
{
    private const string Digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
    private const int Length = 6;

    // The digits of a case id come from the first four bytes; the draw looks at later ones, so that a drawn case has an id like any other.
    private const int DrawFrom = 8;

    /// <summary>The code of a text under a key: 32 bytes.</summary>
    public static byte[] Code(ReadOnlySpan<byte> salt, ReadOnlySpan<byte> text) => HMACSHA256.HashData(salt, text);

    /// <summary>The code of a record for an audience.</summary>
    public static byte[] Code(ReadOnlySpan<byte> salt, string audience, string recordId) =>
        Code(salt, Encoding.UTF8.GetBytes($"{audience}\n{recordId}"));

    /// <summary>The case id of a code.</summary>
    /// <param name="code">The record's code.</param>
    /// <param name="length">How many digits, 6 unless two cases would share them; at most 12.</param>
    public static string Of(ReadOnlySpan<byte> code, int length = Length)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(length, 12);
        var bits = System.Buffers.Binary.BinaryPrimitives.ReadUInt64BigEndian(code);
        return string.Create(length, bits, static (digits, bits) =>
        {
            for (var i = 0; i < digits.Length; i++)
                digits[i] = Digits[(int)((bits >> (59 - (5 * i))) & 31)];
        });
    }

    /// <summary>Where a record stands in the draw: the lowest are drawn.</summary>
    public static ulong Draw(ReadOnlySpan<byte> code) => System.Buffers.Binary.BinaryPrimitives.ReadUInt64BigEndian(code[DrawFrom..]);
}
