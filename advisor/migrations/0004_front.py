"""Builds of a study that no other judged one beats or equals."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('advisor', '0003_tape_records'),
    ]

    operations = [
        migrations.AddField(
            model_name='outcome',
            name='front',
            field=models.BinaryField(blank=True, help_text='Builds that no other beats, as JSON, compressed.', null=True),
        ),
    ]
