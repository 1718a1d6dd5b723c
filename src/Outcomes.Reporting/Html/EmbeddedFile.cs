using System.Reflection;

namespace Outcomes.Reporting.Page;

/// <summary>The files that ship within the tool: the fonts, and the styles of its pages.</summary>
internal static class EmbeddedFile
{
    public static byte[] Bytes(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not embedded.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
