namespace Outcomes.Ingestion.Ledgers;

/// <summary>Finds the hashes that occur more than once among millions, in one open-addressed table.</summary>
internal static class RepeatedHashes
{
    public static HashSet<ulong> Find(IEnumerable<ulong[]> sources)
    {
        var all = sources.ToArray();
        var table = new ulong[System.Numerics.BitOperations.RoundUpToPowerOf2((ulong)Math.Max(16,
            all.Sum(hashes => (long)hashes.Length) * 3 / 2))];
        var mask = (ulong)table.Length - 1;
        var repeated = new HashSet<ulong>();
        foreach (var hashes in all)
            foreach (var hash in hashes)
            {
                if (hash == 0) continue;
                var slot = hash & mask;
                while (table[slot] != 0 && table[slot] != hash) slot = (slot + 1) & mask;
                if (table[slot] == hash) repeated.Add(hash);
                table[slot] = hash;
            }

        return repeated;
    }
}
