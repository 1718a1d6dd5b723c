namespace Outcomes.Synthetic;

/// <summary>
/// Opaque keys, such as <c>k4tz7mh2wq</c>: no vowel, so no word; never two digits side by side, so nothing that could
/// pass for a person's number, a hospital number or a post code. Unique by construction, not by luck: the
/// place of a procedure is shuffled one to one over all keys.
/// </summary>
internal static class RecordIds
{
    private const string Letters = "bcdfghjkmnpqrstvwxz";
    private const string Digits = "23456789";

    /// <summary>Digits stand at 1, 4 and 7 of the ten places, letters elsewhere.</summary>
    private const int Length = 10;

    /// <summary>19^4 x 8 and 19^3 x 8^2: their product is the number of keys, 19^7 x 8^3 = 457,662,330,368.</summary>
    private const ulong LeftSize = 1_042_568, RightSize = 438_976;

    /// <summary>Month of the keys that belong to no record: two hundred years on.</summary>
    public const int NoMonth = 2400;

    private const long ProceduresAMonth = 100_000_000;

    public static string For(int seed, int monthsSince2000, int number)
    {
        var place = (ulong)((monthsSince2000 * ProceduresAMonth) + number);
        var (left, right) = (place / RightSize, place % RightSize);
        // A Feistel network on two unequal halves: each round adds a mix of one half to the other, which can be undone.
        for (var round = 0; round < 4; round++)
        {
            left = (left + Round(seed, round, right)) % LeftSize;
            right = (right + Round(seed, round + 4, left)) % RightSize;
        }
        return Spell((left * RightSize) + right);
    }

    private static ulong Round(int seed, int round, ulong half) =>
        Seeds.Mix(Seeds.Mix(((ulong)(uint)seed << 8) | (uint)Seeds.Purpose.RecordId) ^ ((ulong)round << 32) ^ half) >> 24;

    private static string Spell(ulong key) => string.Create(Length, key, static (text, rest) =>
    {
        for (var i = 0; i < text.Length; i++)
        {
            var alphabet = i % 3 == 1 ? Digits : Letters;
            text[i] = alphabet[(int)(rest % (ulong)alphabet.Length)];
            rest /= (ulong)alphabet.Length;
        }
    });
}
