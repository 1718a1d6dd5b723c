using System.Globalization;
using Outcomes.Fuzz;
using SharpFuzz;

// TARGET --afl            reads one input after the other from AFL++ (the assemblies are instrumented first: tests/fuzz.sh)
// TARGET --input FILE     runs one input and says how it ended
// TARGET --seeds DIR      writes the seeds, a file each
// TARGET SECONDS SEED     mutates the seeds for so long, without knowing what code they reach
if (args.Length < 2 || Targets.Find(args[0]) is not { } target)
{
    Console.Error.WriteLine(
        $"fuzz TARGET (--afl | --input FILE | --seeds DIR | SECONDS SEED), TARGET one of {string.Join(", ", Targets.Names)}");
    return 2;
}

switch (args[1])
{
    case "--afl":
        Fuzzer.OutOfProcess.Run(input =>
        {
            using var bytes = new MemoryStream();
            input.CopyTo(bytes);
            target.Run(bytes.ToArray());
        });
        return 0;
    case "--input":
        Console.Out.WriteLine(target.Run(File.ReadAllBytes(args[2])));
        return 0;
    case "--seeds":
        Directory.CreateDirectory(args[2]);
        foreach (var (seed, i) in target.Seeds.Select((seed, i) => (seed, i)))
            File.WriteAllBytes(Path.Combine(args[2], $"{target.Name}-{i}"), seed);
        return 0;
    default:
        return Mutations.Run(target, TimeSpan.FromSeconds(int.Parse(args[1], CultureInfo.InvariantCulture)),
            args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : 1);
}
