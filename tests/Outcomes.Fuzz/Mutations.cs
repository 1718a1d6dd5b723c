using System.Diagnostics;
using System.Globalization;
using System.Text;

namespace Outcomes.Fuzz;

/// <summary>
/// Spoils seeds at random and reads what comes of it, for a time. It does not know which code an input reaches: it is for what AFL++ is
/// bad at, such as the parts within a zipped file, and for machines without it.
/// </summary>
internal static class Mutations
{
    private static readonly TimeSpan Hang = TimeSpan.FromSeconds(90);

    private static readonly byte[][] Tokens =
    [
        .. new[]
        {
            "\"", "\"\"", "\r\n", "\r", "\n", "\t", ",", ";", "\0", "\uFEFF", "{", "}", "[", "]", ": ", "- ", "#",
            "&a ", "*a", "!!str ", "? ",
            "|\n", ">\n", "'", "%%%\n", "(", ")", " and ", " or ", "not ", " in (", "null", "9999-12-31", "0001-01-01", "2147483647", "-1",
            "99999999999999999999", "1e400", "NaN", "{n}", "*", "..", "/", "\\", "$", "\u202e", "\u001b[", "＝",
            "XFD1048576", "A0", "\ud83d\ude00",
        }.Select(Encoding.UTF8.GetBytes),
        [0xFF], [0x80], [0xC0, 0x80], [0xFF, 0xFF, 0xFF, 0x7F], [0, 0, 0, 0x80], [0xFF, 0xFF, 0xFF, 0xFF, 0x0F],
    ];

    /// <summary>Runs for a time; 0 where nothing but success and refusals came of it.</summary>
    public static int Run(Target target, TimeSpan time, int seed)
    {
        var random = new Random(seed);
        var watch = Stopwatch.StartNew();
        var ends = new SortedDictionary<string, long>(StringComparer.Ordinal);
        var faults = new Dictionary<string, byte[]>(StringComparer.Ordinal);
        var (slowest, runs) = (TimeSpan.Zero, 0L);
        while (watch.Elapsed < time)
        {
            var input = Spoil(target, random);
            var began = watch.Elapsed;
            var end = "";
            var work = new Thread(() => end = Ended(target, input, faults), 1 << 20) { IsBackground = true };
            work.Start();
            if (!work.Join(Hang))
            {
                Keep(target, "hang", input);
                Console.Out.WriteLine($"{target.Name}: an input ran for more than {Hang.TotalSeconds} s");
                return 1;
            }

            if (watch.Elapsed - began > slowest && (slowest = watch.Elapsed - began) > TimeSpan.FromSeconds(3))
                Keep(target, "slowest", input);
            ends[end] = ends.GetValueOrDefault(end) + 1;
            runs++;
        }

        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{target.Name}: seed {seed}, {watch.Elapsed.TotalSeconds:0} s, {runs} inputs, slowest {slowest.TotalMilliseconds:0} ms; "
                + $"{string.Join(", ", ends.Select(end => $"{end.Key} {end.Value}"))}"));
        foreach (var (fault, input) in faults) Console.Out.WriteLine($"  {fault}, kept as {Keep(target, "fault", input)}");
        return faults.Count == 0 ? 0 : 1;
    }

    private static string Ended(Target target, byte[] input, Dictionary<string, byte[]> faults)
    {
        try
        {
            return target.Run(input);
        }
        catch (Exception e)
        {
            // One input a place in the code.
            faults.TryAdd($"{e.GetType().Name} "
                + $"at {e.StackTrace?.Split('\n').FirstOrDefault(line => line.Contains("Outcomes.", StringComparison.Ordinal))?.Trim()}",
                input);
            return "FAULT";
        }
    }

    private static string Keep(Target target, string why, byte[] input)
    {
        var path = Path.Combine(Directory.CreateDirectory("fuzz-out").FullName, $"{target.Name}-{why}-{Guid.NewGuid():N}");
        File.WriteAllBytes(path, input);
        return path;
    }

    private static byte[] Spoil(Target target, Random random)
    {
        var bytes = target.Seeds[random.Next(target.Seeds.Length)];
        var other = target.Seeds[random.Next(target.Seeds.Length)];
        if (target.Name != "xlsx" || random.Next(4) == 0 || Seeds.Unzip(bytes) is not { } parts) return Spoil(bytes, other, random);
        var at = random.Next(parts.Count);
        parts[at] = (parts[at].Name, Spoil(parts[at].Bytes, parts[random.Next(parts.Count)].Bytes, random));
        return Seeds.Zip(parts);
    }

    private static byte[] Spoil(byte[] seed, byte[] other, Random random)
    {
        var bytes = seed.ToList();
        for (var times = 1 << random.Next(4); times > 0; times--)
        {
            var at = random.Next(bytes.Count + 1);
            var length = Math.Min(bytes.Count - at, 1 << random.Next(6));
            switch (random.Next(9))
            {
                case 0 when at < bytes.Count: bytes[at] ^= (byte)(1 << random.Next(8)); break;
                case 1 when at < bytes.Count: bytes[at] = (byte)random.Next(256); break;
                case 2: bytes.RemoveRange(at, length); break;
                case 3: bytes.InsertRange(at, bytes.GetRange(at, length)); break;
                case 4: bytes.RemoveRange(at, bytes.Count - at); break;
                case 5 when other.Length > 0:
                    var from = random.Next(other.Length);
                    bytes.InsertRange(at, other.AsSpan(from, Math.Min(other.Length - from, 1 << random.Next(8))).ToArray());
                    break;
                case 6:
                    var token = Tokens[random.Next(Tokens.Length)];
                    for (var repeat = random.Next(8) == 0 ? random.Next(3_000) : 1; repeat > 0; repeat--) bytes.InsertRange(at, token);
                    break;
                default:
                    var put = Tokens[random.Next(Tokens.Length)];
                    for (var i = 0; i < put.Length && at + i < bytes.Count; i++) bytes[at + i] = put[i];
                    break;
            }
        }

        return [.. bytes];
    }
}
