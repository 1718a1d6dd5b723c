namespace Outcomes.Reporting.Form;

/// <summary>The form's own files, as they travel inside the tool.</summary>
internal static class Resource
{
    /// <summary>The text of one, with line ends as a browser's parser makes them: the hash in the policy is over these bytes.</summary>
    public static string Text(string name)
    {
        using var stream = typeof(Resource).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not in the assembly.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
