namespace Outcomes.Synthetic;

/// <summary>
/// A seed for each thing invented, from the run's seed and the thing's place. One more procedure, month or column then
/// leaves all others as they were, which one long sequence of draws would not.
/// </summary>
internal static class Seeds
{
    /// <summary>What a seed is for; each has draws of its own.</summary>
    public enum Purpose
    {
        Volume = 1,
        Order = 2,
        Facts = 3,
        MissingCells = 4,
        RecordId = 5,
        Trace = 6,
        Unrecorded = 7,
        Foresight = 8,
        Timing = 9,
        Precautions = 10,
        MissingLaterCells = 11,
        Sequel = 12,
        MissingNewestCells = 13,
    }

    /// <summary>A seed from 0 to 2^31 - 1.</summary>
    public static int For(int seed, Purpose purpose, int place, int number) =>
        (int)(Mix(Mix(Mix(((ulong)(uint)seed << 8) | (uint)purpose) ^ (uint)place) ^ (uint)number) >> 33);

    /// <summary>The seed of a record's missing cells, so that they change neither its facts nor another record.</summary>
    public static int ForMissingCells(int seed, string recordId) => ForRecord(seed, Purpose.MissingCells, recordId);

    /// <summary>The seed of a record's missing cells in columns that came later, so that they change no older cell.</summary>
    public static int ForMissingLaterCells(int seed, string recordId) => ForRecord(seed, Purpose.MissingLaterCells, recordId);

    /// <summary>The seed of a record's missing cells in the newest columns, likewise.</summary>
    public static int ForMissingNewestCells(int seed, string recordId) => ForRecord(seed, Purpose.MissingNewestCells, recordId);

    /// <summary>The seed of a record's trace.</summary>
    public static int ForTrace(int seed, string recordId) => ForRecord(seed, Purpose.Trace, recordId);

    private static int ForRecord(int seed, Purpose purpose, string recordId)
    {
        var mixed = Mix(((ulong)(uint)seed << 8) | (uint)purpose);
        foreach (var character in recordId)
            mixed = Mix(mixed ^ character);
        return (int)(mixed >> 33);
    }

    /// <summary>
    /// SplitMix64's output function (Steele, Lea and Flood, OOPSLA 2014; constants from memory, confirmed by the published first
    /// outputs in the tests): neighbouring inputs give unrelated outputs, which seeds counted 1, 2, 3 would not.
    /// </summary>
    public static ulong Mix(ulong x)
    {
        unchecked
        {
            x += 0x9E3779B97F4A7C15;
            x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9;
            x = (x ^ (x >> 27)) * 0x94D049BB133111EB;
            return x ^ (x >> 31);
        }
    }
}
