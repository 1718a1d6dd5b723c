namespace Outcomes.Measures.Catalogue;

/// <summary>The definition files that travel inside the tool.</summary>
internal static class Shipped
{
    public static IEnumerable<string> Measures() =>
        typeof(Shipped).Assembly.GetManifestResourceNames().Where(name => name.StartsWith("measures/", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal);

    public static string Read(string name)
    {
        using var stream = typeof(Shipped).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not in the assembly.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
